// The pages under test. A new page is one line here.
//
//   name       in the report and in the name of its picture
//   path       from the root of the program
//   through    the page is where this link on the path leads (a selector)
//   act        the page's main act, which the keyboard must reach (a selector)
//   actWithin  the act ends within so many px of the top at 360 px wide
//   onePage    it prints on one A4
export const pages = [
  { name: 'today', path: '/', act: '.do', actWithin: 640 },
  { name: 'sheet', path: '/sheet' },
  { name: 'sheet on paper', path: '/sheet/print', onePage: true },
  { name: 'water', path: '/water' },
  { name: 'reading', path: '/reading', act: 'a.kit' },
  { name: 'card', path: '/reading?kit=nitrate+card', act: 'button.do' },
  { name: 'drops', path: '/reading?kit=KH+drops', act: 'button.do' },
  { name: 'pen', path: '/reading?kit=pH+pen', act: 'button.do' },
  { name: 'book', path: '/book' },
  { name: 'line', path: '/book', through: 'main a[href^="/book/line"]' },
]

export const widths = [360, 390, 1280]
