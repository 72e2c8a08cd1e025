// The options of a driver that asks for each line into what it sends, and its own command coming back into nothing.

type Options = Readonly<Record<string, string | number>>
type Terminator = keyof typeof terminators

const terminators = { lf: '\n', cr: '\r', crlf: '\r\n' } as const

/** What can be set of a query, with the `command` and its end that are usual. */
export function queryOptions(command: string, terminator: Terminator) {
  return {
    command: { kind: 'text', default: command, help: 'The query, without its end.' },
    terminator: {
      kind: 'choice',
      values: ['lf', 'crlf', 'cr'],
      default: terminator,
      help: 'What ends a query; a reply ends in cr for cr, else in lf or CR LF.',
    },
    start: { kind: 'text', default: '', help: 'Sent once at each connection, such as SYST:REM; nothing where empty.' },
    intervalMs: { kind: 'number', unit: 'ms', min: 20, max: 10_000, default: 200, help: 'Time from query to query.' },
    replyMs: {
      kind: 'number',
      unit: 'ms',
      min: 50,
      max: 30_000,
      default: 2000,
      help: 'How long to wait for a reply before the query is sent again.',
    },
  } as const
}

/** The wire of a driver with those options: the command, and a line in answer. */
export function queryWire(options: Options, maxFrameBytes: number) {
  const terminator = terminators[options['terminator'] as Terminator]
  const start = String(options['start'])
  return {
    framing: { kind: 'lines', end: endOf(options) },
    start: start === '' ? null : start + terminator,
    poll: [
      {
        bytes: String(options['command']) + terminator,
        periodMs: Number(options['intervalMs']),
        replyMs: Number(options['replyMs']),
        quietMs: 0,
      },
    ],
    maxFrameBytes,
  } as const
}

/** What ends a line that comes in. */
export function endOf(options: Options): 'lf' | 'cr' {
  return options['terminator'] === 'cr' ? 'cr' : 'lf'
}

/** An empty line, or what was sent coming back from an instrument that repeats each command. */
export function isEcho(text: string, options: Options): boolean {
  return ['', options['command'], options['start']].includes(text.trim())
}
