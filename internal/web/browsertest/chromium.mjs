// Debian's browser, and a page that is watched while it is open.
import { existsSync, mkdirSync } from 'node:fs'
import path from 'node:path'
import { chromium } from 'playwright-core'

const browserPath = process.env.CHROMIUM ?? '/usr/bin/chromium'

export async function launch() {
  if (!existsSync(browserPath)) throw new Error(`no browser at ${browserPath}: apt-get install chromium, or name one in CHROMIUM`)
  return chromium.launch({
    executablePath: browserPath,
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
      '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  })
}

const loopback = new Set(['127.0.0.1', 'localhost', '[::1]'])

// open gives { page, faults, close }. faults fills with what must never happen on any page: an
// error in the console, a script that throws, a file that is not there, a request that leaves
// this machine (which is also stopped).
export async function open(browser, { width = 390, dark = false, scripts = true } = {}) {
  const context = await browser.newContext({
    viewport: { width, height: 800 },
    colorScheme: dark ? 'dark' : 'light',
    javaScriptEnabled: scripts,
    reducedMotion: 'reduce',
    hasTouch: width < 700,
    locale: 'en-GB',
  })
  const faults = []
  await context.route('**', route => {
    const { hostname, protocol } = new URL(route.request().url())
    if (protocol.startsWith('http') && !loopback.has(hostname)) {
      faults.push(`a request leaves this machine: ${route.request().url()}`)
      return route.abort()
    }
    return route.continue()
  })
  const page = await context.newPage()
  for (const act of ['goto', 'click']) { // and wait until it has led somewhere
    const does = page[act].bind(page)
    page[act] = async (...how) => { const answer = await does(...how); await arrived(page); return answer }
  }
  page.on('console', m => { if (m.type() === 'error') faults.push(`console: ${m.text()} ${m.location().url ?? ''}`) })
  page.on('pageerror', e => faults.push(`script: ${e.message}`))
  page.on('requestfailed', r => faults.push(`not loaded: ${r.url()} ${r.failure()?.errorText}`))
  return { page, faults, close: () => context.close() }
}

// shoot keeps a picture of the whole page in the folder that SHOTS names, if it names one.
export async function shoot(page, name) {
  if (!process.env.SHOTS) return
  mkdirSync(process.env.SHOTS, { recursive: true })
  await page.screenshot({ path: path.join(process.env.SHOTS, `${name}.png`), fullPage: true })
}

// arrived waits until a page that says that it is at work has made way for the page that was asked for.
export async function arrived(page) {
  await page.waitForLoadState()
  await page.locator('[aria-busy=true]').waitFor({ state: 'detached' })
  await page.waitForLoadState()
}
