import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { servePage } from '../../../main/electron/page-protocol.ts'

const root = mkdtempSync(join(tmpdir(), 'page-'))
const folder = join(root, 'renderer')

beforeAll(() => {
  mkdirSync(join(folder, 'assets'), { recursive: true })
  mkdirSync(join(root, 'renderer-other'))
  writeFileSync(join(folder, 'index.html'), '<p>page</p>')
  writeFileSync(join(folder, 'assets', 'index.js'), 'export const a = 1')
  writeFileSync(join(folder, 'notes.txt'), 'not for the page')
  writeFileSync(join(root, 'secret.js'), 'secret')
  writeFileSync(join(root, 'renderer-other', 'secret.js'), 'secret')
})
afterAll(() => rmSync(root, { recursive: true, force: true }))

const get = (url: string, method = 'GET') => servePage(folder)({ url, method })

describe('the page protocol', () => {
  it.each([
    ['spanwright://page/index.html', 'text/html; charset=utf-8', '<p>page</p>'],
    ['spanwright://page/', 'text/html; charset=utf-8', '<p>page</p>'],
    ['spanwright://page/index.html?place=scaling#end', 'text/html; charset=utf-8', '<p>page</p>'],
    ['spanwright://page/assets/index.js', 'text/javascript; charset=utf-8', 'export const a = 1'],
  ])('serves %s', async (url, type, body) => {
    const response = await get(url)
    expect([response.status, response.headers.get('content-type'), await response.text()]).toEqual([200, type, body])
  })

  it('sends a policy that lets in nothing from elsewhere and no script from the page itself', async () => {
    const policy = (await get('spanwright://page/index.html')).headers.get('content-security-policy') ?? ''
    const rules = Object.fromEntries(policy.split('; ').map((rule) => [rule.split(' ')[0], rule.split(' ').slice(1).join(' ')]))
    expect(rules).toMatchObject({
      'default-src': "'none'",
      'script-src': "'self'",
      'connect-src': "'self'",
      'object-src': "'none'",
      'base-uri': "'none'",
      'form-action': "'none'",
      'frame-ancestors': "'none'",
    })
    expect(policy).not.toMatch(/unsafe-eval|https?:|\*/)
  })

  it.each([
    'spanwright://page/../secret.js',
    'spanwright://page/%2e%2e/secret.js',
    'spanwright://page/..%2fsecret.js',
    'spanwright://page/assets/..%2f..%2fsecret.js',
    'spanwright://page/..%5csecret.js',
    'spanwright://page/../renderer-other/secret.js',
    'spanwright://page/index.html%00.js',
    'spanwright://page/%zz',
    'spanwright://page/notes.txt',
    'spanwright://page/assets',
    'spanwright://page/missing.js',
    'spanwright://elsewhere/index.html',
    'spanwright://page.example.org/index.html',
  ])('refuses %s', async (url) => {
    const response = await get(url)
    expect(response.status).toBe(404)
    expect(await response.text()).not.toContain('secret')
  })

  it('refuses everything but GET', async () => {
    expect((await get('spanwright://page/index.html', 'POST')).status).toBe(405)
  })
})
