// The rules of the tree: which part may know which, what the pure parts may not touch, how files are named and opened.
import { basename } from 'node:path'
import { codeOf, type Import, readPackages } from './read-imports.ts'

export type SourceFile = { path: string; text: string }

/** Parts that may know the core and the errors, and never each other: what they need of one another is handed in. */
const parallel = ['session', 'source', 'recording', 'ledger', 'report', 'terminal', 'simulation']

/** What each part may import besides itself. A name is a part (a folder or a file of src/, or drivers/); a path is one file. */
const mayImport: Record<string, readonly string[] | 'all but acquisition'> = {
  core: [],
  protocol: ['core'],
  errors: ['core'],
  driver: ['core', 'errors'],
  drivers: ['driver', 'protocol', 'src/core/units.ts', 'src/core/reading.ts'],
  'load-drivers': ['driver', 'core', 'errors'],
  ...Object.fromEntries(parallel.map((part) => [part, ['core', 'errors']])),
  acquisition: ['core', 'errors', 'driver', 'simulation', 'src/recording/append.ts'],
  help: ['user-folders'],
  'user-folders': [],
  'recording-name': [],
  version: [],
  commands: 'all but acquisition',
  cli: 'all but acquisition',
  'start-program': ['cli', 'commands', 'errors', 'user-folders'],
  relaunch: [],
  main: ['start-program', 'relaunch'],
}

/** The one way around: the follower of a growing recording knows what the other process says. */
const exceptions: readonly Import[] = [{ from: 'src/source/follow.ts', to: 'src/acquisition/messages.ts' }]

/** Packages of each part; `node:` stands for all of Node's own modules. A part that is not named may use these only. */
const mayUse: Record<string, readonly string[]> = {
  core: ['zod', 'simple-statistics'],
  protocol: [],
  drivers: [],
  driver: ['zod'],
  errors: [],
  report: ['node:', 'd3-scale'],
  terminal: ['node:', 'ink', 'react'],
  acquisition: ['node:', 'serialport', '@serialport/parser-readline'],
  simulation: ['node:', '@lydell/node-pty'],
  commands: ['node:', 'serialport', 'zod'],
  cli: ['node:', 'commander'],
  'user-folders': ['node:', 'env-paths'],
}
const elsewhere = ['node:']

const pureParts = ['core', 'protocol', 'drivers']
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

/** What is wrong with a file's name, length or first line. */
export function wrongShape({ path, text }: SourceFile): string[] {
  const wrong: string[] = []
  const name = basename(path)
  if (!/^[a-z0-9]+(-[a-z0-9]+)*(\.(table|test|transcript|config))?\.tsx?$/.test(name))
    wrong.push(`${path} is not in kebab-case`)
  // What a name is about stands last: common-slope is a slope.
  if (bannedWords.includes(name.split('.')[0]?.split('-').at(-1) ?? ''))
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
