// The rules of the tree: which part may know which, what the pure parts may not touch, how files are named and opened.

import { basename } from 'node:path'
import { codeOf } from '../../src/contract/code-of.ts'
import { layers } from './layers.table.ts'
import { type Import, readPackages } from './read-imports.ts'

export type SourceFile = { path: string; text: string }

/** Parts that may know the core and the errors, and never each other: what they need of one another is handed in. */
const parallel = ['session', 'source', 'recording', 'ledger', 'report', 'terminal', 'simulation']

/** Parts that know none of the others. */
const byThemselves = [
  ...['core', 'heartbeat', 'hardened-binding', 'ports', 'user-folders', 'recording-name', 'version', 'relaunch'],
  ...['heed-launcher', 'standard-streams', 'hold-young-space', 'waited-for-core'],
]

/** What each part may import besides itself. A name is a part (a folder or a file of src/, or drivers/); a path is one file. */
const mayImport: Record<string, readonly string[] | 'all but acquisition'> = {
  ...Object.fromEntries(byThemselves.map((part) => [part, []])),
  protocol: ['core'],
  errors: ['core'],
  driver: ['core', 'errors'],
  drivers: ['driver', 'protocol', 'src/core/model/units.ts', 'src/core/model/reading.ts'],
  learn: ['driver', 'protocol', 'core'],
  contract: ['driver', 'heartbeat', 'core', 'errors'],
  'watched-worker': ['core', 'heartbeat', 'hold-young-space', 'waited-for-core'],
  'typed-driver': ['driver', 'core'],
  'load-drivers': ['driver', 'typed-driver', 'core', 'errors'],
  'described-driver': ['driver', 'load-drivers', 'errors'],
  fold: 'all but acquisition',
  ...Object.fromEntries(parallel.map((part) => [part, ['core', 'errors']])),
  signing: ['core', 'errors', 'recording'],
  numbers: ['errors', 'recording'],
  bundle: ['errors'],
  acquisition: [
    ...['core', 'errors', 'driver', 'simulation', 'ports', 'hardened-binding', 'src/recording/append.ts'],
    ...['src/recording/bench-chain.ts', 'src/recording/seal-signature.ts'],
  ],
  help: ['user-folders'],
  'help-setups': ['help', 'core'],
  commands: 'all but acquisition',
  cli: 'all but acquisition',
  'start-program': ['cli', 'commands', 'errors', 'heed-launcher', 'standard-streams', 'user-folders'],
  main: ['start-program', 'relaunch'],
}

/** The one way around: whoever starts the other process knows what it says. */
const exceptions: readonly Import[] = [{ from: 'src/source/acquire.ts', to: 'src/acquisition/messages.ts' }]

/** Packages of each part; `node:` stands for all of Node's own modules. A part that is not named may use these only. */
const mayUse: Record<string, readonly string[]> = {
  core: ['zod', 'simple-statistics'],
  protocol: [],
  learn: [],
  drivers: [],
  driver: ['zod'],
  contract: ['node:', 'zod'],
  errors: [],
  report: ['node:', 'd3-scale', 'pdfkit', 'fontkit', 'bwip-js', 'fflate'],
  bundle: ['node:', 'fflate'],
  terminal: ['node:', 'ink', 'react', 'get-east-asian-width'],
  'hardened-binding': ['node:', 'serialport'],
  acquisition: ['node:', 'serialport', '@serialport/parser-readline'],
  simulation: ['node:', '@lydell/node-pty'],
  ports: ['node:', 'serialport'],
  commands: ['node:', 'serialport', 'zod'],
  cli: ['node:', 'commander'],
  'number-from': ['commander'],
  'help-setups': ['zod'],
  'user-folders': ['node:', 'env-paths'],
}
const elsewhere = ['node:']

const pureParts = ['core', 'protocol', 'learn', 'drivers']
const impure =
  /\b(Date|performance|Temporal|setTimeout|setInterval|setImmediate|queueMicrotask|await|async|Promise|console|process|globalThis|fetch|crypto|Math\s*\.\s*random)\b/g

const bannedWords = ['utils', 'util', 'helpers', 'helper', 'common', 'manager', 'service']
const topLevel = ['README.md', 'DEVELOPERS.md', 'LICENSE', 'package.json', 'package-lock.json', 'tsconfig.json']
const topFolders = ['src', 'drivers', 'tests', 'recordings']
const maxLines = 300

/** The part that a file belongs to: `core` of src/core/units.ts, `cli` of src/cli.ts, `drivers`, `tests`. */
export function partOf(path: string): string {
  const [top = '', second = ''] = path.split('/')
  return top === 'src' ? second.replace(/\.tsx?$/, '') : top
}

/** Imports that go against the one-way rule, each as a sentence. Tests may import anything. */
export function wrongImports(imports: readonly Import[]): string[] {
  return imports
    .filter(({ from, to }) => {
      const [part, target] = [partOf(from), partOf(to)]
      if (part === 'tests' || part === target) return false
      if (exceptions.some((exception) => exception.from === from && exception.to === to)) return false
      const allowed = mayImport[part]
      if (allowed === 'all but acquisition') return ['acquisition', 'main'].includes(target)
      return !allowed?.some((name) => name === target || name === to)
    })
    .map(({ from, to }) => `${from} must not import ${to}`)
}

/** Imports from a room above, each as a sentence; and files of a layered part that lie in none of its rooms. */
export function wrongLayers(imports: readonly Import[]): string[] {
  return layers.flatMap((rooms) => {
    // The longest name that fits: a room within a room counts by itself.
    const roomOf = (path: string) =>
      rooms.reduce((best, room, i) => {
        const fits = room.endsWith('/') ? path.startsWith(room) : path === room
        return fits && room.length > (rooms[best]?.length ?? 0) ? i : best
      }, -1)
    const part = rooms[0]!.split('/').slice(0, 2).join('/')
    const inside = (path: string) => path.startsWith(`${part}/`)
    const own = imports.filter(({ from, to }) => inside(from) && inside(to))
    const lost = [...new Set(own.flatMap(({ from, to }) => [from, to]))].filter((path) => roomOf(path) < 0)
    const up = own.filter(({ from, to }) => roomOf(from) >= 0 && roomOf(to) > roomOf(from))
    return [
      ...lost.map((path) => `${path} lies in no room of ${part}`),
      ...up.map(
        ({ from, to }) => `${from} must not import ${to}: ${rooms[roomOf(to)]} comes after ${rooms[roomOf(from)]}`,
      ),
    ]
  })
}

/** Files that check others by other means, and all that they may import. */
const apart: Record<string, readonly string[]> = {
  'src/core/decision/second-reader.ts': [
    'src/core/model/',
    'src/core/statistics/',
    'src/core/criteria.table.ts',
    'src/core/decision/raw-strokes.ts',
  ],
  'src/core/decision/typed-reader.ts': [
    'src/core/model/',
    'src/core/criteria.table.ts',
    'src/core/decision/second-reader.ts',
  ],
  'src/core/decision/raw-strokes.ts': [
    'src/core/model/columns.ts',
    'src/core/statistics/',
    'src/core/criteria.table.ts',
  ],
}

/** Imports by which a second look would share something with what it checks, each as a sentence. */
export function wrongSharing(imports: readonly Import[]): string[] {
  return imports
    .filter(({ from, to }) => !(apart[from] ?? ['']).some((allowed) => to.startsWith(allowed)))
    .map(({ from, to }) => `${from} must not import ${to}: it shares nothing with what it checks`)
}

/** Circles of files, each as a sentence with the arrows that make it. Tests are left out. */
export function circles(imports: readonly Import[]): string[] {
  const targets = new Map<string, string[]>()
  for (const { from, to } of imports) {
    if (partOf(from) === 'tests') continue
    targets.set(from, [...(targets.get(from) ?? []), to])
  }
  // What no arrow leads into, or leads on from, is in no circle: take such files away until none is left.
  const left = new Map(targets)
  for (let size = -1; size !== left.size; ) {
    size = left.size
    const entered = new Set([...left.values()].flat())
    for (const [from, to] of left) if (!entered.has(from) || !to.some((file) => left.has(file))) left.delete(from)
  }
  return [...left]
    .flatMap(([from, to]) => to.filter((file) => left.has(file)).map((file) => `${from} → ${file} is part of a circle`))
    .sort()
}

/** Packages that a file may not use, each as a sentence. */
export function wrongPackages({ path, text }: SourceFile): string[] {
  if (partOf(path) === 'tests') return []
  const allowed = mayUse[partOf(path)] ?? elsewhere
  return readPackages(text)
    .filter((name) => !allowed.includes(name) && !(name.startsWith('node:') && allowed.includes('node:')))
    .map((name) => `${path} must not use ${name}`)
}

/** Clocks, timers, chance, waiting and printing in the pure parts, each with its line. */
export function impurities({ path, text }: SourceFile): string[] {
  if (!pureParts.includes(partOf(path))) return []
  return codeOf(text)
    .split('\n')
    .flatMap((line, i) => [...line.matchAll(impure)].map(([word]) => `${path}:${i + 1} uses ${word}`))
}

/** Rooms of the core in which something is judged: their thresholds come from the table. */
const judging =
  /^src\/core\/((intake|signal|strokes|trips|uncertainty|diagnosis|decision|plan|guide|view)\/.*|[a-z-]+)\.ts$/

const compares = /\s(?:<=?|>=?|===|!==)\s/
/** Where one side of a comparison ends at the latest; two statements are parted by a new line alone. */
const clauseEnds = /(&&|\|\||\?\?|\?(?!\.)|[:;,{}]|=>|(?<=[^=!<>])=(?!=)|\breturn\b|(?<=[\w)\]'])\n(?=\s*[\w(!]))/
const numbers = /(?<![\w.$])\d[\d_]*(?:\.\d+)?(?:e[-+]?\d+)?/g

/**
 * Numbers in comparisons, and in `Math.max` and `Math.min`, that no name explains, each with its line. A sign, a half
 * and a million (µs in a second) are arithmetic.
 */
export function bareNumbers({ path, text }: SourceFile): string[] {
  if (!judging.test(path)) return []
  const code = codeOf(text)
  const found = new Map<number, string>()
  const look = (from: number, to: number, bounds: boolean) => {
    let at = from
    for (const clause of code.slice(from, to).split(clauseEnds)) {
      // What lies in brackets only counts places of a list.
      const seen = clause.replace(/\[[^[\]]*\]/g, (index) => ' '.repeat(index.length))
      if (bounds || compares.test(seen))
        for (const { 0: number, index } of seen.matchAll(numbers))
          if (isBare(Number(number.replaceAll('_', '')), seen.slice(0, index), seen.slice(index + number.length)))
            found.set(at + index, number)
      at += clause.length
    }
  }
  look(0, code.length, false)
  for (const { 0: call, index } of code.matchAll(/\bMath\.(?:max|min)\(/g))
    look(index + call.length, closing(code, index + call.length), true)
  return [...found]
    .sort(([a], [b]) => a - b)
    .map(([at, number]) => `${path}:${code.slice(0, at).split('\n').length} compares with ${number}`)
}

/** Whether a number between two texts is compared, multiplied or added, and by more than a sign, a half or a unit. */
function isBare(value: number, before: string, after: string): boolean {
  const left = /(?:[<>=!]=*|\*{1,2}|[-+/%])?\s*$/.exec(before)![0].trim()
  const right = /^\s*(?:[<>]=?|[=!]==|\*(?!\*)|[-+/])?/.exec(after)![0].trim()
  if (value === 0 || value === 1 || left === '**' || left === '%') return false
  if ((left === '/' && value === 2) || (/^[*/]$/.test(left) && value === 1e6)) return false
  const alone = before.trim() === '' && after.trim() === ''
  return alone || left !== '' || right !== ''
}

/** Place of the bracket that closes what was opened just before `from`. */
function closing(code: string, from: number): number {
  let depth = 1
  for (let i = from; i < code.length; i++) {
    if (code[i] === '(') depth++
    if (code[i] === ')' && --depth === 0) return i
  }
  return code.length
}

/** What is wrong with a file's name, length or first line. */
export function wrongShape({ path, text }: SourceFile): string[] {
  const wrong: string[] = []
  const name = basename(path)
  if (!/^[a-z0-9]+(-[a-z0-9]+)*(\.(table|test|transcript|config))?\.tsx?$/.test(name))
    wrong.push(`${path} is not in kebab-case`)
  // What a name is about comes last: common-slope is a slope. A rule of the diagnosis has the name of its finding.
  const isFinding = path.startsWith('src/core/diagnosis/rules/')
  if (!isFinding && bannedWords.includes(name.split('.')[0]?.split('-').at(-1) ?? ''))
    wrong.push(`${path} has a name that says nothing`)
  if (name.endsWith('.tsx') && !/(^|\/)terminal\//.test(path)) wrong.push(`${path} draws outside terminal/`)
  const lines = text.split('\n').length - 1
  const tabular = name.endsWith('.table.ts') || path.startsWith('tests/reference/')
  if (lines > maxLines && !tabular) wrong.push(`${path} has ${lines} lines, more than ${maxLines}`)
  if (!opensWithSentence(text) && !/^tests\/.*\.(test|config)\.ts$/.test(path))
    wrong.push(`${path} does not open with a sentence that says what it is for`)
  return wrong
}

function opensWithSentence(text: string): boolean {
  const comment: string[] = []
  for (const line of text.replace(/^#!.*\n/, '').split('\n')) {
    if (!line.startsWith('// ')) break
    comment.push(line.slice(3))
  }
  return /^[A-Z`].{15,}[.:]$/.test(comment.join(' '))
}

/** Entries of the top folder that do not belong there. Hidden ones may; what is not kept is not looked at. */
export function wrongTopLevel(entries: readonly string[]): string[] {
  const known = [...topLevel, ...topFolders, 'node_modules', 'dist', 'coverage']
  return entries.filter((entry) => !entry.startsWith('.') && !known.includes(entry))
}
