// Which port is opened for each instrument, from what the rig names, what was seen before and what is plugged in.
import { expect, test } from 'vitest'
import type { Adapter, PresentPort } from '../../src/ports/adapter.ts'
import { choosePorts, type WantedPort } from '../../src/ports/choose-ports.ts'

const [usb0, usb1, usb2] = ['/dev/ttyUSB0', '/dev/ttyUSB1', '/dev/ttyUSB2']
const adapter = (serial: string | null, position: string | null, product = '6001'): Adapter => ({
  ...{ vendor: '0403', product, serial, position },
})
/** With a serial number at plug 1 and 2; without at the same plugs. */
const [a, b] = [adapter('A', '1'), adapter('B', '2')]
const [plain1, plain2, plain3] = [adapter(null, '1'), adapter(null, '2'), adapter(null, '3')]

const port = (name: string, path: string, seen: Adapter | null, exists = true): WantedPort => ({
  ...{ name, path, exists, adapter: seen },
})
const there = (path: string, seen: Adapter | null): PresentPort => ({ path, adapter: seen })

/** The manometer on ttyUSB0 and the meter on ttyUSB1, as they were seen before. */
const pair = (manometer: Adapter | null, meter: Adapter | null) => [
  port('manometer', usb0, manometer),
  port('meter', usb1, meter),
]

type Row = [name: string, wanted: WantedPort[], present: PresentPort[], chosen: (string | RegExp)[]]

// A path is opened and nothing is said; a pattern is of what is said, its path behind `>`, or of why nothing is opened.
const rows: Row[] = [
  ['nothing is known of either', pair(null, null), [], [usb0, usb1]],
  ['nothing is listed here', pair(a, b), [], [usb0, usb1]],
  ['both are where they were', pair(a, b), [there(usb0, a), there(usb1, b)], [usb0, usb1]],
  [
    'two with serial numbers have changed names',
    pair(a, b),
    [there(usb0, b), there(usb1, a)],
    [
      /^The adapter of the manometer \(0403:6001, serial A\) is at \/dev\/ttyUSB1 now, not at \/dev\/ttyUSB0: \/dev\/ttyUSB1 is used\.>\/dev\/ttyUSB1$/,
      /serial B\) is at \/dev\/ttyUSB0 now.*>\/dev\/ttyUSB0$/,
    ],
  ],
  [
    'two same ones without serial number have changed names',
    pair(plain1, plain2),
    [there(usb0, plain2), there(usb1, plain1)],
    [/at plug 1\) is at \/dev\/ttyUSB1 now.*known by its plug alone.*>\/dev\/ttyUSB1$/, /plug 2.*>\/dev\/ttyUSB0$/],
  ],
  [
    'one was plugged in again under a new name',
    [port('manometer', usb0, a, false)],
    [there(usb2, a), there(usb1, b)],
    [/is at \/dev\/ttyUSB2 now.*>\/dev\/ttyUSB2$/],
  ],
  [
    'one with a serial number is at another plug',
    [port('manometer', usb0, a)],
    [there(usb0, adapter('A', '7'))],
    [usb0],
  ],
  [
    'one without serial number is at another plug under its old name',
    [port('manometer', usb0, plain1)],
    [there(usb0, plain3)],
    [/at another plug than before, and it has no serial number: check.*>\/dev\/ttyUSB0$/],
  ],
  [
    'one without serial number is at another plug under a new name',
    [port('manometer', usb0, plain1, false)],
    [there(usb2, plain3)],
    [/^absent: .* is not plugged in\. Put it back where it was; one of the same kind is at \/dev\/ttyUSB2/],
  ],
  [
    'one is gone and the other has its name',
    pair(a, b),
    [there(usb0, b)],
    [
      /^absent: .*serial A\) is not plugged in, and \/dev\/ttyUSB0 is the adapter of the meter now\./,
      /serial B.*>\/dev\/ttyUSB0$/,
    ],
  ],
  [
    'the plugs of two without serial number are new and both have their old names',
    pair(plain1, plain2),
    [there(usb0, plain3), there(usb1, adapter(null, '4'))],
    [/manometer.*another plug.*>\/dev\/ttyUSB0$/, /meter.*another plug.*>\/dev\/ttyUSB1$/],
  ],
  [
    'a new adapter took the place of the old one',
    [port('manometer', usb0, a)],
    [there(usb0, b)],
    [/has another adapter \(0403:6001, serial B\) than before \(0403:6001, serial A\): check.*>\/dev\/ttyUSB0$/],
  ],
  [
    'two have the same serial number, one is at its plug',
    [port('manometer', usb0, a)],
    [there(usb0, adapter('A', '2')), there(usb1, a)],
    [/is at \/dev\/ttyUSB1 now.*>\/dev\/ttyUSB1$/],
  ],
  [
    'two have the same serial number and none is at its plug or under its name',
    [port('manometer', usb0, a, false)],
    [there(usb1, adapter('A', '5')), there(usb2, adapter('A', '6'))],
    [/^unclear: .*the same adapter \(0403:6001, serial A\) is at \/dev\/ttyUSB1 and \/dev\/ttyUSB2\. Unplug the ones/],
  ],
  [
    'two have the same serial number, none at its plug, one under its name',
    [port('manometer', usb0, a)],
    [there(usb0, adapter('A', '5')), there(usb2, adapter('A', '6'))],
    [/others have the serial number A too: check.*>\/dev\/ttyUSB0$/],
  ],
  [
    'one moved to a name that the rig gives to an unknown one',
    pair(a, null),
    [there(usb1, a)],
    [/^unclear: The manometer and the meter both lead to \/dev\/ttyUSB1\./, /^unclear: The meter and the manometer/],
  ],
  ['a name that the system does not list is taken as it is', [port('manometer', '/tmp/pty', a)], [], ['/tmp/pty']],
]

test.each(rows)('%s', (_, wanted, present, chosen) => {
  const told = choosePorts(wanted, present).map((choice) => {
    if (choice.path === null) return `${choice.why}: ${choice.text} ${choice.next}`
    return choice.said === null ? choice.path : `${choice.said}>${choice.path}`
  })
  expect(told).toEqual(chosen.map((each) => (each instanceof RegExp ? expect.stringMatching(each) : each)))
})

test('an adapter of another product under the same name is told as another one, for a live link not to go on with', () => {
  const [choice] = choosePorts([port('manometer', usb0, a)], [there(usb0, adapter('A', '1', '7523'))])
  expect(choice).toMatchObject({ path: usb0, adapter: 'other' })
})
