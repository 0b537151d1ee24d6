import { createReadStream, existsSync, statSync } from 'node:fs'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { extname, join, normalize } from 'node:path'

/** The built page. */
export const PAGE = join(import.meta.dirname, '../../dist/page')

const KINDS: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.txt': 'text/plain; charset=utf-8',
  '.woff2': 'font/woff2',
}

/** A plain server of files, as a web space is. */
export interface StaticServer {
  /** where the page is, with a slash at the end */
  readonly address: string
  /** Ends every connection and listens no more. */
  stop(): Promise<void>
}

/**
 * Serves the built page, and nothing else, below a path.
 *
 * @param below  such as `/` or `/music/tools/`
 * @param damaged  file names that are answered with `404`, such as a sound bank that is missing
 */
export function serveBuilt(below = '/', damaged: RegExp = /^$/): Promise<StaticServer> {
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url!, 'http://localhost').pathname)
    const inside = path.startsWith(below) ? normalize(path.slice(below.length)) : '..'
    const file = join(PAGE, inside === '.' || inside === '' ? 'index.html' : inside)
    if (inside.startsWith('..') || damaged.test(file) || !existsSync(file) || !statSync(file).isFile()) {
      response.writeHead(404).end()
      return
    }
    // `Vary` as many servers say it; no type that is unknown: the browser has to do without.
    const kind = KINDS[extname(file)] ?? 'application/octet-stream'
    response.writeHead(200, { 'Content-Type': kind, Vary: 'Origin' })
    createReadStream(file).pipe(response)
  })
  return new Promise((resolve) => {
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as AddressInfo
      let stopped = false
      resolve({
        address: `http://127.0.0.1:${port}${below}`,
        stop: () =>
          new Promise((done) => {
            if (stopped) return done()
            stopped = true
            server.close(() => done())
            server.closeAllConnections()
          }),
      })
    })
  })
}
