// The sources into dist/: what is loaded by itself stays a file by itself, with the packages it needs in it.
import { copyFileSync, cpSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { builtinModules } from 'node:module'
import { join, relative, sep } from 'node:path'
import { build, type Plugin } from 'rolldown'

const root = import.meta.dirname

/** The place of a source in dist/, without its ending, such as `src/acquisition/main`. */
const placeOf = (file: string) =>
  relative(root, file)
    .split(sep)
    .join('/')
    .replace(/\.tsx?$/, '')
const isOwn = (file: string) => /^(src|drivers)\//.test(placeOf(file))
/** Whether a source looks for other files from where it is, so that it must keep its place. */
function looksBesideItself(file: string): boolean {
  return isOwn(file) && existsSync(file) && readFileSync(file, 'utf8').includes('import.meta.url')
}

/**
 * An import of one of Node's own modules makes all that the module offers: of `node:process` alone worker threads,
 * streams and more, which costs as much as the rest of `--help`. Got this way, only what is used is made.
 */
const nodeModulesAsUsed: Plugin = {
  name: 'node-modules-as-used',
  resolveId: {
    filter: { id: new RegExp(`^(node:.*|${builtinModules.join('|')})$`) },
    handler(id, importer = '') {
      // The bundler's own pieces come first of all, so they take the plain way.
      if (importer.startsWith('\0')) return null
      // The argument parser needs this one only for commands that are programs of their own, and none is.
      if (id === 'node:child_process' && /[\\/]commander[\\/]/.test(importer)) return '\0node:unused'
      return `\0node:${id.replace(/^node:/, '')}`
    },
  },
  load: {
    filter: { id: /^\0node:/ },
    handler: (id) => `module.exports = ${id === '\0node:unused' ? '{}' : `process.getBuiltinModule('${id.slice(1)}')`}`,
  },
}

/** The font of the PDFs, of which two weights go along. */
const fonts = join(root, 'node_modules/dejavu-fonts-ttf')

/** Licences of the packages in the bundle into one file, for most of them ask that their text goes along. */
const licences: Plugin = {
  name: 'licences',
  generateBundle(_, bundle) {
    const files = Object.values(bundle).flatMap((output) => (output.type === 'chunk' ? output.moduleIds : []))
    const folders = files.flatMap((file) => /^.*[\\/]node_modules[\\/](?:@[^\\/]+[\\/])?[^\\/]+/.exec(file)?.[0] ?? [])
    this.emitFile({
      type: 'asset',
      fileName: 'THIRD-PARTY-LICENSES.txt',
      source: [...new Set([...folders, fonts])]
        .map(licenceOf)
        .sort()
        .join(`\n${'-'.repeat(80)}\n\n`),
    })
  },
}

/**
 * Name, version and licence of the package in `folder`. One that brings no text and has our own licence gets that, with the
 * copyright that its main file states, else with the author that it names.
 */
function licenceOf(folder: string): string {
  const { name, version, license, main, author } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'))
  const file = readdirSync(folder).find((entry) => /^licen[cs]e/i.test(entry))
  if (file === undefined && license !== 'MIT') throw new Error(`${name} (${license}) brings no text of its licence`)
  const text =
    file !== undefined
      ? readFileSync(join(folder, file), 'utf8')
      : readFileSync(join(root, 'LICENSE'), 'utf8').replace(
          /^Copyright .*/m,
          /Copyright .*/.exec(readFileSync(join(folder, main), 'utf8'))?.[0] ??
            `Copyright (c) ${author?.name ?? author}`,
        )
  return `${name} ${version} (${license ?? 'see below'})\n\n${text.trim()}\n${namedBesides(text, folder, main)}`
}

/** Whom the head of the package's main file names beside its licence: what was generated from the work of others. */
function namedBesides(text: string, folder: string, main: string | undefined): string {
  const path = join(folder, main ?? 'index.js')
  if (!existsSync(path) || !/\.[cm]?js$/.test(path)) return ''
  const [head = ''] = /^(\s*\/\/.*\n)+/.exec(readFileSync(path, 'utf8')) ?? []
  const lines = head.split('\n').map((line) => line.replace(/^\s*\/\/ ?/, '').trim())
  const others = lines.flatMap((line, i) =>
    /^Copyright /.test(line) && !text.includes(line) ? [lines[i - 1], line] : [],
  )
  return others.length > 0 ? `\nIn it, under the same terms:\n${others.join('\n')}\n` : ''
}

const drivers = readdirSync(join(root, 'drivers'))
  .filter((name) => name.endsWith('.ts'))
  .map((name) => `drivers/${name}`)
const entries = [
  'src/start-program.ts',
  'src/acquisition/main.ts',
  'src/contract/main.ts',
  'src/fold/main.ts',
  'src/commands/run-watched-worker.ts',
  'src/commands/tell-files-worker.ts',
  ...drivers,
]

await build({
  input: Object.fromEntries(entries.map((file) => [file.replace(/\.ts$/, ''), join(root, file)])),
  platform: 'node',
  // The first two bring files for each system, so they are installed and not bundled; the last is never there.
  external: [/^@?serialport(\/|$)/, '@lydell/node-pty', 'react-devtools-core'],
  transform: {
    define: {
      'process.env.NODE_ENV': '"production"',
      // The screen's layout is WebAssembly within the file: to fetch it there, Node would load its whole HTTP client.
      fetch: 'undefined',
    },
  },
  plugins: [nodeModulesAsUsed, licences],
  preserveEntrySignatures: 'allow-extension',
  output: {
    dir: join(root, 'dist'),
    entryFileNames: '[name].mjs',
    // A file that is loaded by itself keeps its place; what several share has one of its own.
    chunkFileNames: ({ facadeModuleId, name }) =>
      facadeModuleId && isOwn(facadeModuleId)
        ? `${placeOf(facadeModuleId)}.mjs`
        : `${name.startsWith('src/') ? '' : 'src/shared/'}[name].mjs`,
    comments: false,
    codeSplitting: {
      includeDependenciesRecursively: false,
      groups: [
        { name: 'node', test: /^\0node:/ },
        { debugName: 'beside themselves', name: (file) => (looksBesideItself(file) ? placeOf(file) : null) },
      ],
    },
  },
})

// The sketch of a board goes along with the driver that reads it.
cpSync(join(root, 'drivers/bridge-line'), join(root, 'dist/drivers/bridge-line'), { recursive: true })

// The launcher is CommonJS, which an old Node loads quicker; modules are modules by their ending.
await build({
  input: join(root, 'src/main.ts'),
  platform: 'node',
  plugins: [
    {
      name: 'program-beside',
      resolveId: {
        filter: { id: /start-program\.ts$/ },
        handler: () => ({ id: './start-program.mjs', external: true }),
      },
    },
  ],
  output: {
    dir: join(root, 'dist/src'),
    format: 'cjs',
    entryFileNames: '[name].js',
    chunkFileNames: '[name].js',
    comments: false,
  },
})
for (const name of ['DejaVuSansCondensed.ttf', 'DejaVuSansCondensed-Bold.ttf'])
  copyFileSync(join(fonts, 'ttf', name), join(root, 'dist/src/report', name))
writeFileSync(join(root, 'dist/package.json'), '{ "type": "commonjs" }\n')
