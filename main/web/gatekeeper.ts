import { randomBytes, timingSafeEqual } from 'node:crypto'
import type { IncomingMessage } from 'node:http'

export const cookieName = 'spanwright-session'

const mint = () => randomBytes(24).toString('base64url')
const same = (a: string, b: string) => a.length === b.length && timingSafeEqual(Buffer.from(a), Buffer.from(b))

/**
 * Who may talk to the loopback host. A printed token opens the door once and is turned into a same-site cookie;
 * Host and Origin must name this very server, so that neither another site nor a rebound DNS name gets through.
 */
export function createGatekeeper() {
  let token = mint()
  const cookie = randomBytes(32).toString('base64url')
  let names: string[] = []

  return {
    /** The token that is good now. */
    token: () => token,
    /** Told once the port is known. */
    listensOn(port: number): void {
      names = [`127.0.0.1:${port}`, `localhost:${port}`]
    },
    /** A cookie value for the first bearer of the token; the token is spent by it and another minted. */
    redeem(given: string | null): string | null {
      if (given === null || !same(given, token)) return null
      token = mint()
      return cookie
    },
    hostAllowed: (request: IncomingMessage) => names.includes(request.headers.host ?? ''),
    originAllowed: (request: IncomingMessage) => names.some((name) => request.headers.origin === `http://${name}`),
    known(request: IncomingMessage): boolean {
      const sent = (request.headers.cookie ?? '').split(/;\s*/).find((c) => c.startsWith(`${cookieName}=`))
      return sent !== undefined && same(sent.slice(cookieName.length + 1), cookie)
    },
  }
}
