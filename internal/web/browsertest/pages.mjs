// The pages under test. A new page is one line here.
//
//   name       in the report and in the name of its picture
//   path       from the root of the program
//   act        the page's main act, which the keyboard must reach (a selector)
//   actWithin  the act ends within so many px of the top at 360 px wide
//   onePage    it prints on one A4
export const pages = [
  { name: 'today', path: '/', act: '.do', actWithin: 640 },
  { name: 'sheet', path: '/sheet', onePage: true },
  { name: 'reading', path: '/reading', act: 'button.do' },
  { name: 'book', path: '/book' },
  { name: 'emergency', path: '/emergency', act: 'summary' },
]

export const widths = [360, 390, 1280]
