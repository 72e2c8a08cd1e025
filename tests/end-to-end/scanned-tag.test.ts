// The built program on a terminal: a tag that is scanned where the serial number of a lot is asked for.
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, test } from 'vitest'
import { part, rig } from '../harness/desk-setups.ts'
import { readCodes } from '../harness/read-codes.ts'
import { realRecording } from '../harness/real-recording.ts'
import { choose, createDesk, ctrlC, expectGivenBack } from '../harness/start-screen.ts'

const { newHome, start } = createDesk()

describe('a tag scanned where the serial number is asked for', () => {
  test('opens its part: earlier verdict and record, then part and serial number filled in; the number typed does too', async () => {
    const { home, parts, rigs, recordings } = newHome()
    const golden = new URL('../../recordings/good-1.run', import.meta.url).pathname
    realRecording(golden, join(recordings, 'real.run'))
    writeFileSync(join(parts, 'dp62.json'), JSON.stringify(part))
    writeFileSync(join(parts, 'hl.json'), JSON.stringify({ ...part, model: 'HL-Proving 1' }))
    writeFileSync(join(rigs, 'bench.json'), JSON.stringify(rig))
    const writing = await start(home, 'tag', join(recordings, 'real.run'), '--png', '203', '--out', home)
    await writing.until(() => writing.exit(), 'the tag to be written')
    const [code = ''] = await readCodes(readFileSync(join(home, 'real-tag-203.png')))
    const terminal = await start(home)
    await choose(terminal, 'Test parts')
    await terminal.see('► dp62')
    terminal.key('\r')
    await terminal.see('Test dp62 on bench')
    // A scanner types and ends with Enter.
    terminal.key(`${code}\r`)
    await terminal.see(`Tag ${code.slice(0, 14)}`)
    await terminal.see('Recorded PASS on 2026-02-03')
    terminal.key('\r')
    await terminal.see('Test hl on bench')
    await terminal.until(() => /serial number +0417/.test(terminal.screen()), 'the serial number filled in')
    // Behind what is filled in, as a scanner does.
    terminal.key(`${code.slice(0, 14)}\r`)
    await terminal.see('► Test it again')
    await choose(terminal, 'Play its recording')
    await terminal.see('×10')
    terminal.key('q')
    await terminal.see('Back to the serial number')
    terminal.key('\x1b')
    await terminal.see('Test hl on bench')
    terminal.key('REJECT A1 0123456789ABCDEF\r')
    await terminal.see('No recording in')
    terminal.key(ctrlC)
    await expectGivenBack(terminal, 0)
  })
})
