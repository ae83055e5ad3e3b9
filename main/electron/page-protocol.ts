import { pageHeaders, readPageFile } from '../page-files.ts'
import type { SchemeOptions } from './runtime.ts'

/** The page has a scheme of its own: unlike a file address it has an origin, and only the built page's files can be reached. */
const scheme = 'spanwright'
export const pageOrigin = `${scheme}://page`
export const pageUrl = `${pageOrigin}/index.html`

export const pageScheme: SchemeOptions = { scheme, privileges: { standard: true, secure: true, supportFetchAPI: true } }

/** True for addresses of the page itself; a longer host name that merely begins alike is not one. */
export const isPageUrl = (url: string): boolean => url.startsWith(`${pageOrigin}/`)

/** Answers requests under the page's scheme from the built page in `folder`. */
export function servePage(folder: string): (request: Pick<Request, 'url' | 'method'>) => Promise<Response> {
  return async ({ url, method }) => {
    if (method !== 'GET') return new Response('Only GET is served.', { status: 405 })
    const file = isPageUrl(url) ? await readPageFile(folder, url.slice(pageOrigin.length).replace(/[?#].*$/s, '')) : undefined
    if (!file)
      return new Response('There is no such file.', {
        status: 404,
        headers: { ...pageHeaders, 'content-type': 'text/plain; charset=utf-8' },
      })
    return new Response(file.body, { headers: { ...pageHeaders, 'content-type': file.contentType } })
  }
}
