// Code page 437 with its pictures for control codes: the Unicode Consortium's CP437.TXT and IBMGRAPH.TXT, from memory.
import { expect, test } from 'vitest'
import { initialScreen } from '../../../src/terminal/panels/screen-state.ts'
import { viewOf } from '../../../src/terminal/panels/view.ts'
import { consoleText } from '../../../src/terminal/text/console-signs.ts'
import { bareText } from '../../../src/terminal/text/line.ts'
import { textWidth } from '../../../src/terminal/text/text.ts'
import { sampleGuide, sampleLive, samplePart, sampleResult } from '../sample-lives.ts'

const page =
  'ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜ¢£¥₧ƒáíóúñÑªº¿⌐¬½¼¡«»░▒▓│┤╡╢╖╕╣║╗╝╜╛┐└┴┬├─┼╞╟╚╔╩╦╠═╬╧╨╤╥╙╘╒╓╫╪┘┌█▄▌▐▀αßΓπΣσµτΦΘΩδ∞φε∩≡±≥≤⌠⌡÷≈°∙·√ⁿ²■' +
  '☺☻♥♦♣♠•◘○◙♂♀♪♫☼►◄↕‼¶§▬↨↑↓→←∟↔▲▼'
const known = new Set([...page, ...Array.from({ length: 95 }, (_, i) => String.fromCharCode(32 + i))])

test('on a bare console every sign of every view is one of code page 437, and takes the same room', () => {
  const missing = new Set<string>()
  const links = sampleLive(1).links.map((link) => ({ ...link, state: 'lost' as const, faults: 1 }))
  const finding = { code: 'a', effect: 'void' as const, text: 'Start again. '.repeat(20), evidence: {} }
  const result = sampleResult(9, { verdict: 'fail', findings: [finding, finding] })
  const tooFast = sampleGuide({ ballast: { tremorPa: 2, litres: null }, action: 'stop' })
  const lives = [
    sampleLive(137),
    sampleLive(160, { links, result, guide: tooFast }),
    sampleLive(10, { actuated: null, contact: 'unknown', result: sampleResult(0) }),
    ...(['pass', 'fail', 'undecided', 'void', 'not-assessed'] as const).map((verdict) =>
      sampleLive(300, { phase: 'ended', result: sampleResult(9, { verdict }) }),
    ),
  ]
  for (const live of lives)
    for (const mode of ['test', 'help', 'question'] as const)
      for (const [columns, rows] of [
        [140, 45],
        [80, 24],
        [60, 16],
        [50, 14],
      ] as const) {
        const shown = { live, part: samplePart, title: 'HT-25', simulated: true, speed: 4, calm: false }
        const screen = { ...initialScreen, mode }
        const more = { size: { columns, rows }, screen, marks: true, ends: true, dots: 'block' as const }
        for (const { lines } of viewOf({ ...shown, ...more }))
          for (const text of lines.map(bareText)) {
            const plain = consoleText(text)
            expect(textWidth(plain)).toBe(textWidth(text))
            for (const char of plain) if (!known.has(char)) missing.add(char)
          }
      }
  expect([...missing]).toEqual([])
})
