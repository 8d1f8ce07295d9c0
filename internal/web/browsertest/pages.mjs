// The pages under test. A new page is one line here.
//
//   name       in the report and in the name of its picture
//   path       from the root of the program
//   link, from the path is that of the first such link on another page: a line of the book has no
//              name that is known beforehand
//   act        the page's main act, which the keyboard must reach (a selector)
//   actWithin  the act ends within so many px of the top at 360 px wide
//   onePage    it prints on one A4
export const pages = [
  { name: 'today', path: '/', act: '.do', actWithin: 640 },
  { name: 'sheet', path: '/sheet', act: '.do', actWithin: 640, onePage: true },
  { name: 'sheet-siphon', path: '/sheet?step=1', act: '.do', actWithin: 640, onePage: true },
  { name: 'sheet-mix', path: '/sheet?step=2', act: '.do', actWithin: 760 },
  { name: 'sheet-temper', path: '/sheet?step=3', act: '.do', actWithin: 640 },
  { name: 'sheet-check', path: '/sheet?step=4', act: '.do', actWithin: 640 },
  { name: 'sheet-on', path: '/sheet?step=6', act: '.do' },
  { name: 'sheet-last', path: '/sheet?step=99', act: 'button.do' },
  { name: 'sheet-print', path: '/sheet/print', onePage: true },
  { name: 'water', path: '/water' },
  { name: 'outlook', path: '/outlook', act: 'button.or' },
  { name: 'reading', path: '/reading', act: '.kit' },
  { name: 'reading-card', path: '/reading?kit=nitrate+card', act: 'button.do' },
  { name: 'reading-drops', path: '/reading?kit=KH+drops', act: 'button.do' },
  { name: 'reading-meter', path: '/reading?kit=pH+pen', act: 'button.do', actWithin: 640 },
  { name: 'book', path: '/book' },
  { name: 'book-facts', path: '/book?month=2026-05' },
  { name: 'book-line', path: '/book/line', link: '.open', from: '/book', act: 'button.or' },
  { name: 'emergency', path: '/emergency', act: 'summary' },
  { name: 'emergency-typed', path: '/emergency?power-off-since=02:10&water-temp=24', act: 'summary' },
]

export const widths = [360, 390, 1280]
