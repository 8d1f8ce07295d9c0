// Every page of the real program, at every width, by day and by night, by key and on paper.
import { after, before, describe, test } from 'node:test'
import assert from 'node:assert/strict'
import { launch, open, shoot } from './chromium.mjs'
import { pages, widths } from './pages.mjs'
import { start } from './program.mjs'
import * as rules from './rules.mjs'

let browser, program
before(async () => { browser = await launch(); program = await start() })
after(async () => { await browser?.close(); await program?.stop() })

// visit shows a page and gives it to look; what must never happen on any page is looked at after.
async function visit({ path, link, from }, options, look) {
  const { page, faults, close } = await open(browser, options)
  try {
    let answer = await page.goto(program.url + (from ?? path))
    if (link) answer = await page.goto(await page.locator(link).first().evaluate(a => a.href))
    assert.equal(answer.status(), 200, path)
    await look(page)
    none(faults)
  } finally {
    await close()
  }
}

// none ends the test with every fault on a line of its own, and no stack: the rule is not at fault.
function none(faults) {
  if (faults.length === 0) return
  const err = new Error(`${faults.length} faults\n  ${faults.join('\n  ')}`)
  err.stack = err.message
  throw err
}

for (const p of pages) {
  describe(p.name, () => {
    for (const width of widths) {
      test(`${width} px`, () => visit(p, { width }, async page => {
        await shoot(page, `${p.name}-${width}`)
        const faults = [await rules.fits(page), await rules.legible(page), await rules.named(page),
          await rules.reachable(page), await rules.accessible(page)]
        none(faults.flat())
      }))
    }
    test('by night', () => visit(p, { dark: true }, async page => {
      await shoot(page, `${p.name}-dark`)
      none(await rules.accessible(page)) // colours change, places do not
    }))
    if (p.act) test('by key', () => visit(p, {}, async page => none(await rules.keyed(page, p.act))))
    if (p.actWithin) {
      // What the demo says of itself is not there in a keeper's own book, and does not count.
      test(`the act stands within ${p.actWithin} px`, () => visit(p, { width: 360 }, async page => {
        const box = await page.locator(p.act).first().boundingBox()
        const notice = await page.locator('.notice').evaluateAll(all => all.reduce((sum, n) => sum + n.offsetHeight, 0))
        const end = box.y + box.height - notice
        assert.ok(end <= p.actWithin, `it ends at ${Math.ceil(end)} px`)
      }))
    }
    test('on paper', () => visit(p, { width: 1280 }, async page => {
      const { count, faults } = await rules.sheets(page)
      none(faults)
      if (p.onePage) assert.equal(count, 1, `prints on ${count} sheets`)
    }))
    test('without scripts it says the same', async () => {
      let shown
      const words = page => page.locator('main').innerText()
      await visit(p, {}, async page => { shown = await words(page) })
      await visit(p, { scripts: false }, async page => assert.equal(await words(page), shown))
      assert.ok(shown.length > 40, `main holds only: ${shown}`)
    })
  })
}

test('every page that is linked is there, and is under test', async () => {
  const known = new Set()
  const found = new Map() // address -> the page that links to it
  const fetched = new Set() // files to keep, not pages to look at
  for (const p of pages) {
    await visit(p, {}, async page => {
      known.add(new URL(page.url()).pathname)
      const links = await page.locator('a[href]').evaluateAll(all => all.map(a => ({ to: a.href.replace(/#.*/, ''), file: a.hasAttribute('download') })))
      for (const { to, file } of links) {
        if (file) fetched.add(to)
        if (to.startsWith(program.url) && !found.has(to)) found.set(to, p.name)
      }
    })
  }
  const faults = []
  for (const [link, from] of found) {
    const { status } = await fetch(link)
    const { pathname } = new URL(link)
    if (status !== 200) faults.push(`${from} links to ${link}, which answers ${status}`)
    else if (!known.has(pathname) && !fetched.has(link)) faults.push(`${from} links to ${pathname}, which is not in pages.mjs`)
  }
  none(faults)
})
