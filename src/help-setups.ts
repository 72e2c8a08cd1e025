// The schemas of part and rig file into what `--help` shows of them: an example of each, and every field.
import type { z } from 'zod'
import { exampleOf, fieldsOf } from './core/model/fields.ts'
import { partFileSchema } from './core/model/part.ts'
import { rigFileSchema } from './core/model/rig.ts'
import { jsonLines } from './core/text/json-lines.ts'
import type { SetupHelp } from './help.ts'

/** Fields of the part file that the help shows, and of the rig file: enough for a first test. */
const partShown = ['model', 'serial', 'kind', 'rated', 'limits.make']
const rigShown = [
  'name',
  ...['driver', 'port.path', 'port.baudRate', 'suctionSign', 'digit', 'accuracy.ofReading', 'accuracy.ofFullScale'].map(
    (path) => `manometer.${path}`,
  ),
  ...[
    'manometer.accuracy.fullScale',
    'meter.driver',
    'meter.port.path',
    'meter.port.baudRate',
    'meter.options',
    'meter.pair',
  ],
]

const example = (schema: z.ZodType, shown: readonly string[]) =>
  jsonLines(
    exampleOf(fieldsOf(schema), ({ path }) => shown.some((each) => path === each || path.startsWith(`${each}.`))),
    76,
  )
    .map((line) => `  ${line}`)
    .join('\n')

const partExample = `Part file: what the label or the maker's document says (limits you leave out
are measured, not assessed)
${example(partFileSchema, partShown)}`

const rigExample = `Rig file: the instruments, their ports and how good they are
${example(rigFileSchema, rigShown)}
suctionSign -1: this manometer shows suction as a negative number.
Every field of both: makebreak schema --help`

/** Every field of a file: its path, what it is in or may be, what it means. */
const fieldTable = (schema: z.ZodType, without: readonly string[] = []) =>
  fieldsOf(schema)
    .filter(
      ({ kind, path, isUnit }) =>
        kind !== 'object' && kind !== 'list' && !isUnit && !without.some((other) => path.startsWith(`${other}.`)),
    )
    .flatMap(({ path, called, unit, choices, help }) => [
      `  ${[path, unit ?? choices.join(' or ')].filter(Boolean).join(', ')}`,
      ...wrapped(`${called.replace(' #', '')}: ${help}`, 74).map((line) => `      ${line}`),
    ])
    .join('\n')

const wrapped = (text: string, width: number) => text.match(new RegExp(`\\S.{0,${width - 1}}(?= |$)`, 'g')) ?? []

export const setupHelp: SetupHelp = {
  partExample,
  rigExample,
  partFields: fieldTable(partFileSchema),
  rigFields: fieldTable(rigFileSchema, ['bridge', 'manometer-2']),
}
