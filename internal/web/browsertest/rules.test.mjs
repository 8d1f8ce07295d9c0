// The rules themselves, on a page that breaks each of them and on one that keeps them.
import { after, before, test } from 'node:test'
import assert from 'node:assert/strict'
import { launch, open } from './chromium.mjs'
import * as rules from './rules.mjs'

let browser
before(async () => { browser = await launch() })
after(() => browser?.close())

async function show(t, body, options) {
  const opened = await open(browser, options)
  t.after(opened.close)
  await opened.page.setContent(`<!doctype html><html lang="en"><title>A page</title><body>${body}`)
  return opened
}

const found = (faults, words) => assert.match(faults.join('\n'), words)

test('contrast too low, and a field without a name, are seen', async t => {
  const { page } = await show(t, '<main><h1>A</h1><p style="color:#aaa;background:#fff">pale</p><input></main>')
  const faults = await rules.accessible(page)
  found(faults, /color-contrast/)
  found(faults, /label/)
})

test('a page wider than the screen is seen', async t => {
  const { page } = await show(t, '<div style="width:500px">wide</div>', { width: 360 })
  found(await rules.fits(page), /500|508/)
})

test('small targets are seen; links in a sentence are not targets', async t => {
  const { page } = await show(t, '<button style="height:50px;width:90px">at the desk</button> <p>Read <a href="#">this</a> first.</p>')
  assert.deepEqual(await rules.reachable(page), [])
  await page.evaluate(() => document.body.classList.add('tank'))
  found(await rules.reachable(page), /least 44 x 56/)
})

test('words that lie on words, leave the drawing or are small are seen', async t => {
  const text = (x, y, size, words) => `<text x="${x}" y="${y}" font-size="${size}">${words}</text>`
  const draw = inner => `<svg role="img" aria-label="d" viewBox="0 0 200 100" width="200" height="100">${inner}</svg>`
  const { page } = await show(t, draw(text(10, 20, 14, 'one') + text(14, 24, 14, 'two') + text(190, 80, 14, 'three') + text(10, 60, 11, 'four')))
  const faults = await rules.legible(page)
  found(faults, /"two" lies on "one"/)
  found(faults, /"three" leaves/)
  found(faults, /"four" is 11/)
  assert.equal(faults.length, 3)
  await page.setContent(draw(text(10, 20, 14, 'one') + text(10, 34, 14, 'two')))
  assert.deepEqual(await rules.legible(page), [])
})

test('a drawing without words is seen', async t => {
  const { page } = await show(t, '<svg width="9" height="9"></svg><i id="a"></i><i id="a"></i>')
  const faults = await rules.named(page)
  found(faults, /without words/)
  found(faults, /id a is given twice/)
})

test('an act that Tab does not reach, and a focus that cannot be seen, are seen', async t => {
  const { page } = await show(t, '<a href="#" style="outline:none">a</a><button class="do" tabindex="-1">b</button>')
  const faults = await rules.keyed(page, '.do')
  found(faults, /cannot be seen/)
  found(faults, /does not come to \.do/)
})

test('sheets of paper are counted', async t => {
  const { page } = await show(t, '<p>one</p><p style="break-before:page">two</p><button>press</button>')
  const { count, faults } = await rules.sheets(page)
  assert.equal(count, 2)
  found(faults, /only be pressed/)
})

test('what leaves this machine, and an error in the console, are seen', async t => {
  const { page, faults } = await show(t, '')
  await page.evaluate(() => fetch('https://example.org/').catch(() => console.error('lost')))
  found(faults, /leaves this machine: https:\/\/example\.org/)
  found(faults, /console: lost/)
})
