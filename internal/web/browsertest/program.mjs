// Starts the real program on a free port of the loopback, with its invented enclosure.
import { spawn, execFileSync } from 'node:child_process'
import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { fileURLToPath } from 'node:url'
import path from 'node:path'

const root = fileURLToPath(new URL('../../..', import.meta.url))

function build() {
  const program = path.join(mkdtempSync(path.join(tmpdir(), 'halfwater-')), 'halfwater')
  execFileSync('go', ['build', '-o', program, './cmd/halfwater'], { cwd: root, stdio: 'inherit' })
  return program
}

// start gives { url, stop }. HALFWATER names a program that is already built; HALFWATER_URL a
// server that already runs.
export async function start() {
  if (process.env.HALFWATER_URL) return { url: process.env.HALFWATER_URL, stop: async () => {} }
  const program = process.env.HALFWATER ?? build()
  const child = spawn(program, ['demo', '--addr', '127.0.0.1:0'], { stdio: ['ignore', 'pipe', 'pipe'] })
  const ended = new Promise(done => child.once('exit', done))
  let said = ''
  const url = await new Promise((found, failed) => {
    const listen = chunk => {
      said += chunk
      const address = said.match(/http:\/\/(127\.0\.0\.1|localhost|\[::1\]):\d+/)
      if (address) found(address[0])
    }
    child.stdout.on('data', listen)
    child.stderr.on('data', listen)
    child.once('error', failed)
    child.once('exit', code => failed(new Error(`the program ended (${code}) before it named an address:\n${said}`)))
    setTimeout(() => failed(new Error(`the program named no address within 30 s:\n${said}`)), 30_000).unref()
  }).catch(err => { child.kill(); throw err })
  const stop = async () => { child.kill('SIGTERM'); await ended }
  return { url, stop }
}
