// What a keeper does with the pages, in the real browser and without scripts.
import { after, before, test } from 'node:test'
import assert from 'node:assert/strict'
import { launch, open, shoot } from './chromium.mjs'
import { start } from './program.mjs'
import * as rules from './rules.mjs'

let browser, program
before(async () => { browser = await launch(); program = await start() })
after(async () => { await browser?.close(); await program?.stop() })

// A refused form answers 422; the browser notes that in its console, and nothing is wrong with it.
const unasked = faults => faults.filter(f => !/status of 422/.test(f))

async function keeper(t, options) {
  const opened = await open(browser, { width: 360, scripts: false, ...options })
  t.after(opened.close)
  return opened
}

test('a card is read with two touches, and only then compared', async t => {
  const { page, faults } = await keeper(t)
  await page.goto(`${program.url}/reading`)
  await page.click('.kit:has-text("nitrate card")')
  assert.doesNotMatch(await page.innerText('main'), /expected|about/)
  await page.check('[value="between 20 and 40"]')
  await page.click('button.do')
  assert.match(await page.innerText('h1'), /^Kept: nitrate: between 20 and 40/)
  assert.match(await page.innerText('main'), /Before you looked, we expected \d+/)
  await shoot(page, 'kept-360-light')
  assert.deepEqual(unasked(faults), [])
})

test('a wrong number stays, the fault stands beside it, and the likely one is one touch away', async t => {
  for (const dark of [false, true]) {
    const { page, faults } = await keeper(t, { dark, scripts: true })
    await page.goto(`${program.url}/reading?kit=pH+pen`)
    await page.fill('#typed', '75')
    await page.click('button.do')
    assert.equal(await page.inputValue('#typed'), '75')
    assert.match(await page.innerText('.fault'), /cannot be/)
    await shoot(page, `fault-360-${dark ? 'dark' : 'light'}`)
    const broken = [await rules.fits(page), await rules.named(page), await rules.reachable(page), await rules.accessible(page)].flat()
    assert.deepEqual(broken, [])
    await page.click('button[name=likely]')
    assert.match(await page.innerText('h1'), /^Kept: pH: 7\.5/)
    const kept = [await rules.fits(page), await rules.legible(page), await rules.named(page), await rules.reachable(page), await rules.accessible(page)].flat()
    assert.deepEqual(kept, [])
    assert.deepEqual(unasked(faults), [])
  }
})

test('a form with a fault keeps what was typed', async t => {
  const { page, faults } = await keeper(t, { scripts: true })
  await page.goto(`${program.url}/reading`)
  await page.click('summary:has-text("A change")')
  await page.fill('#f-change-out_litres', '-3')
  await page.fill('#f-change-in', 'RO 9')
  await page.click('.lineform:has([value=change]) button.do')
  assert.equal(await page.inputValue('#f-change-in'), 'RO 9')
  assert.ok(await page.isVisible('#f-change-out_litres-fault'))
  await shoot(page, 'fault-change-360-light')
  const broken = [await rules.fits(page), await rules.named(page), await rules.reachable(page), await rules.accessible(page)].flat()
  assert.deepEqual(broken, [])
  assert.deepEqual(unasked(faults), [])
})

test('a visit goes from the act on Today to its line in the book by its buttons alone', async t => {
  const { page, faults } = await keeper(t)
  await page.goto(program.url)
  for (let i = 0; i < 12 && !/Write it down/.test(await page.innerText('main')); i++) await page.click('a.do')
  assert.match(await page.innerText('h2'), /Write it down/)
  await page.click('button.do')
  assert.match(await page.innerText('h1'), /^Kept: change/)
  await page.click('text=Correct it')
  await page.fill('#reason', 'it was a rehearsal')
  await page.click('button:has-text("Withdraw it")')
  assert.match(await page.innerText('main'), /Withdrawn/)
  await page.goto(`${program.url}/book`)
  assert.match(await page.innerText('main'), /withdrawn: it was a rehearsal/)
  await shoot(page, 'book-withdrawn-360-light')
  assert.deepEqual(unasked(faults), [])
})

test('an address that is none says so in the house', async t => {
  const { page } = await keeper(t, { scripts: true })
  const answer = await page.goto(`${program.url}/nope`)
  assert.equal(answer.status(), 404)
  assert.match(await page.innerText('h1'), /nothing here/)
  assert.deepEqual([await rules.fits(page), await rules.named(page), await rules.reachable(page), await rules.accessible(page)].flat(), [])
})
