// What every page must keep. Each rule gives a list of faults in words; empty is well.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

// accessible: axe-core's rules for WCAG 2 A and AA, contrast among them.
export async function accessible(page) {
  await page.evaluate(axeSource)
  const { violations } = await page.evaluate(() => globalThis.axe.run(document, {
    runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa'],
  }))
  return violations.flatMap(v => v.nodes.map(n => `${v.id}: ${v.help}: ${n.target.join(' ')}: ${n.failureSummary.replace(/\s+/g, ' ')}`))
}

// fits: nothing makes the page wider than the screen.
export function fits(page) {
  return page.evaluate(() => {
    const wide = document.documentElement.scrollWidth
    if (wide <= window.innerWidth) return []
    const culprits = [...document.querySelectorAll('body *')]
      .filter(e => e.getBoundingClientRect().right > window.innerWidth + 1)
      .map(e => e.outerHTML.slice(0, 80))
    return [`${wide} px wide on a screen of ${window.innerWidth}: ${culprits.slice(0, 3).join(' | ')}`]
  })
}

// reachable: what can be pressed or typed in is at least 48 px high, 56 on a page for the tank
// (body.tank), and at least 44 px wide. A link within a sentence is part of the sentence; a
// radio or check box counts together with its label.
export function reachable(page) {
  return page.evaluate(() => {
    const tank = document.body.classList.contains('tank')
    const inHead = e => e.closest('header, footer') !== null
    const inSentence = e => e.tagName === 'A' && getComputedStyle(e).display === 'inline' &&
      [...e.parentElement.childNodes].some(n => n.nodeType === Node.TEXT_NODE && n.textContent.trim() !== '')
    const faults = []
    for (const e of document.querySelectorAll('a[href], button, input:not([type=hidden]), select, textarea, summary')) {
      if (!e.checkVisibility({ visibilityProperty: true }) || inSentence(e)) continue
      const boxes = [e, ...(e.labels ?? [])].map(b => b.getBoundingClientRect()).filter(b => b.width > 1)
      if (boxes.length === 0 || boxes.every(b => b.right <= 0)) continue // away until it has the focus
      const pressed = ['radio', 'checkbox'].includes(e.type) ? boxes : boxes.slice(0, 1)
      const height = Math.max(...pressed.map(b => b.bottom)) - Math.min(...pressed.map(b => b.top))
      const width = Math.max(...pressed.map(b => b.right)) - Math.min(...pressed.map(b => b.left))
      const least = tank && !inHead(e) ? 56 : 48
      if (height < least - 0.5 || width < 44 - 0.5)
        faults.push(`${Math.round(width)} x ${Math.round(height)} px, least 44 x ${least}: ${e.outerHTML.slice(0, 90)}`)
    }
    return faults
  })
}

// legible: in a drawing no text leaves the drawing, none lies on another, none is under 13 px.
export function legible(page) {
  return page.evaluate(() => {
    const faults = []
    for (const svg of document.querySelectorAll('svg')) {
      if (!svg.checkVisibility({ visibilityProperty: true })) continue
      const frame = svg.getBoundingClientRect()
      const placed = []
      const walk = document.createTreeWalker(svg, NodeFilter.SHOW_TEXT)
      for (let node = walk.nextNode(); node; node = walk.nextNode()) {
        const words = node.textContent.trim()
        const text = node.parentElement.closest('text')
        if (words === '' || !text || !text.checkVisibility({ visibilityProperty: true })) continue
        const range = document.createRange()
        range.selectNodeContents(node)
        const box = range.getBoundingClientRect()
        const scale = Math.hypot(text.getScreenCTM().a, text.getScreenCTM().b)
        const size = parseFloat(getComputedStyle(node.parentElement).fontSize) * scale
        // the ink of a line: from 0.74 of the size above the base line to 0.20 below it; the base
        // line lies about 0.79 down the line's box
        const base = box.top + 0.79 * box.height
        const ink = { words, left: box.left, right: box.right, top: base - 0.74 * size, bottom: base + 0.20 * size }
        if (size < 12.95) faults.push(`"${words}" is ${size.toFixed(1)} px high, least 13`)
        if (ink.left < frame.left - 1 || ink.right > frame.right + 1 || ink.top < frame.top - 1 || ink.bottom > frame.bottom + 1)
          faults.push(`"${words}" leaves its drawing`)
        for (const other of placed) {
          if (Math.min(ink.right, other.right) - Math.max(ink.left, other.left) > 1 &&
              Math.min(ink.bottom, other.bottom) - Math.max(ink.top, other.top) > 1)
            faults.push(`"${words}" lies on "${other.words}"`)
        }
        placed.push(ink)
      }
    }
    return faults
  })
}

// named: every drawing says in words what it shows, or is only an ornament; ids are not shared.
export function named(page) {
  return page.evaluate(() => {
    const faults = []
    for (const svg of document.querySelectorAll('svg, canvas')) {
      if (svg.closest('[aria-hidden=true]')) continue
      const said = svg.getAttribute('aria-label') ??
        (svg.getAttribute('aria-labelledby') ?? '').split(/\s+/).map(id => document.getElementById(id)?.textContent ?? '').join(' ')
      if (svg.getAttribute('role') !== 'img' || said.trim() === '') faults.push(`a drawing without words: ${svg.outerHTML.slice(0, 90)}`)
    }
    const ids = [...document.querySelectorAll('[id]')].map(e => e.id)
    for (const id of new Set(ids.filter((id, i) => ids.indexOf(id) !== i))) faults.push(`id ${id} is given twice`)
    return faults
  })
}

// keyed: by Tab alone the focus comes to the act, and can be seen at every stop on the way.
export async function keyed(page, act) {
  const faults = []
  for (let stop = 0; stop < 60; stop++) {
    await page.keyboard.press('Tab')
    const at = await page.evaluate(act => {
      const e = document.activeElement
      if (!e || e === document.body) return null
      const ring = [e, ...(e.labels ?? [])].some(b => {
        const s = getComputedStyle(b)
        return (s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2) || s.boxShadow !== 'none'
      })
      return { act: e.matches(act), ring, html: e.outerHTML.slice(0, 80) }
    }, act)
    if (!at) break
    if (!at.ring) faults.push(`the focus cannot be seen on ${at.html}`)
    if (at.act) return faults
  }
  return [...faults, `Tab does not come to ${act}`]
}

// sheets counts the A4 sheets that a page prints on, and names what prints that should not.
export async function sheets(page) {
  await page.emulateMedia({ media: 'print' })
  const pressed = await page.evaluate(() => [...document.querySelectorAll('nav, button, .do, .sos')]
    .filter(e => e.checkVisibility({ visibilityProperty: true }) && e.getBoundingClientRect().height > 0)
    .map(e => `prints what can only be pressed: ${e.outerHTML.slice(0, 80)}`))
  const pdf = (await page.pdf({ format: 'A4', preferCSSPageSize: true, printBackground: true })).toString('latin1')
  await page.emulateMedia({ media: null })
  const count = (pdf.match(/\/Type\s*\/Page(?![a-zA-Z])/g) ?? []).length
  return { count, faults: count === 0 ? ['no sheet was found in the print'] : pressed }
}
