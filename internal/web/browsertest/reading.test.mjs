// A keeper without scripts keeps readings in the real program, rightly and wrongly.
import { after, before, test } from 'node:test'
import assert from 'node:assert/strict'
import { arrived, launch, open, shoot } from './chromium.mjs'
import { start } from './program.mjs'
import * as rules from './rules.mjs'

let browser, program
before(async () => { browser = await launch(); program = await start() })
after(async () => { await browser?.close(); await program?.stop() })

// enter opens the pad of a kit on a phone, without scripts, fills it and presses Keep.
async function enter(t, kit, fill, scripts = false) {
  const opened = await open(browser, { width: 360, scripts })
  t.after(opened.close)
  const { page } = opened
  await page.goto(`${program.url}/reading?kit=${encodeURIComponent(kit)}`)
  await fill(page)
  const [answer] = await Promise.all([
    page.waitForResponse(r => r.request().method() === 'POST'),
    page.locator('button.do').first().click(),
  ])
  await arrived(page)
  return { ...opened, status: answer.status() }
}

const book = async page => {
  await page.goto(`${program.url}/book`)
  return page.locator('main').innerText()
}

test('a reading off a card is kept and stands in the book', async t => {
  const { page, status, faults } = await enter(t, 'nitrate card', async page => {
    await page.getByLabel('10', { exact: true }).check({ force: true })
  })
  assert.equal(status, 303)
  assert.match(await page.locator('h1').innerText(), /^Kept/)
  assert.match(await book(page), /nitrate[^\n]*10/i)
  assert.deepEqual(faults, [])
})

test('a number off a pen is kept, comma or point', async t => {
  for (const shown of ['6.8', '6,9']) {
    const { page, status } = await enter(t, 'pH pen', page => page.getByLabel('The number').fill(shown))
    assert.equal(status, 303, `${shown}: ${await page.locator('main').innerText()}`)
    assert.match(await page.locator('h1').innerText(), new RegExp(shown.replace(',', '[.,]')))
  }
})

for (const [kit, label, wrong] of [
  ['pH pen', 'The number', '14.5'],
  ['pH pen', 'The number', 'seven'],
  ['thermometer', 'The number', '240'],
  ['KH drops', 'Another count', '-1'],
]) {
  test(`${kit}: ${wrong} comes back with its fault beside it`, async t => {
    const before = await (async () => {
      const { page, close } = await open(browser, { scripts: false })
      const text = await book(page)
      await close()
      return text
    })()
    const { page, status } = await enter(t, kit, page => page.getByLabel(label).fill(wrong))
    assert.equal(status, 422)
    const field = page.getByLabel(label)
    assert.equal(await field.inputValue(), wrong, 'what was typed is gone')
    assert.equal(await field.getAttribute('aria-invalid'), 'true')
    const said = await field.evaluate(e => document.getElementById(e.getAttribute('aria-describedby') ?? '')?.innerText ?? '')
    assert.ok(said.trim().length > 10, 'the field does not say what is odd')
    const [at, fault] = [await field.boundingBox(), await page.locator('.fault').first().boundingBox()]
    assert.ok(Math.abs(at.y - fault.y) < 400, `the fault stands ${Math.round(Math.abs(at.y - fault.y))} px from its field`)
    assert.equal(await book(page), before, 'a wrong reading came into the book')
  })
}

test('nothing chosen comes back with its fault', async t => {
  const { page, status } = await enter(t, 'nitrate card', async () => {})
  assert.equal(status, 422)
  assert.ok((await page.locator('.fault').first().innerText()).trim().length > 10)
})

// The rules of all pages, on the pages that come after a form. (axe waits for timers, so with scripts.)
for (const [name, kit, fill] of [
  ['kept', 'nitrate card', page => page.getByLabel('10', { exact: true }).check({ force: true })],
  ['fault', 'thermometer', page => page.getByLabel('The number').fill('240')],
]) {
  test(`${name}: the page keeps the rules`, async t => {
    const { page } = await enter(t, kit, fill, true)
    await shoot(page, `${name}-360`)
    const faults = [await rules.fits(page), await rules.legible(page), await rules.named(page),
      await rules.reachable(page), await rules.accessible(page)]
    assert.deepEqual(faults.flat(), [])
  })
}
