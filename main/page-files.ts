import { readFile } from 'node:fs/promises'
import { extname, resolve, sep } from 'node:path'

/**
 * What the page may do: its own files and nothing from elsewhere. Styles may stand in the page because the component
 * library writes its variables there; scripts may not.
 */
export const contentSecurityPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data:",
  "font-src 'self' data:",
  "connect-src 'self'",
  "frame-src 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ')

const contentTypes: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.woff': 'font/woff',
}

/** Headers for every answer that carries part of the page. */
export const pageHeaders = {
  'content-security-policy': contentSecurityPolicy,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cache-control': 'no-store',
}

export type PageFile = { path: string; contentType: string }

/** The file of the built page that a URL path names. Undefined where the path leaves the folder or is no page file. */
export function pageFile(folder: string, urlPath: string): PageFile | undefined {
  let decoded: string
  try {
    decoded = decodeURIComponent(urlPath)
  } catch {
    return undefined
  }
  if (/[\0\\]/.test(decoded)) return undefined
  const root = resolve(folder)
  const path = resolve(root, `.${decoded === '/' ? '/index.html' : decoded}`)
  const contentType = contentTypes[extname(path)]
  if (!path.startsWith(root + sep) || contentType === undefined) return undefined
  return { path, contentType }
}

/** Reads a file of the built page; undefined where there is none of that name. */
export async function readPageFile(
  folder: string,
  urlPath: string,
): Promise<{ body: Uint8Array<ArrayBuffer>; contentType: string } | undefined> {
  const file = pageFile(folder, urlPath)
  if (!file) return undefined
  try {
    return { body: new Uint8Array(await readFile(file.path)), contentType: file.contentType }
  } catch {
    return undefined
  }
}
