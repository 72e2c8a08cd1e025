// Arguments into a command and its exit status.
import { Argument, Command, CommanderError, Option } from 'commander'
import { decimals, papers } from './core/model/paper-forms.ts'
import { purposes } from './core/model/purposes.ts'
import { asSentence, Problem } from './errors.ts'
import { helpText, type SetupHelp, showsSetups } from './help.ts'
import { dayFrom, numberFrom, wholeFrom } from './number-from.ts'
import { readVersion } from './version.ts'

/** Runs the command that `args` name; `run` where there are options only. Gives the exit status. */
export async function runCommand(args: readonly string[]): Promise<number> {
  const [first] = args
  const named = first !== undefined && (!first.startsWith('-') || ['-h', '--help', '-V', '--version'].includes(first))
  const line = named ? args : ['run', ...args]
  const asksHelp = showsSetups.includes(line[0] ?? '') && line.some((arg) => arg === '-h' || arg === '--help')
  const setups = asksHelp ? (await import('./help-setups.ts')).setupHelp : null
  let status = 0
  const finish = (code: number) => {
    status = code
  }
  const watched: Watched = async (run) => (await import('./commands/run-watched.ts')).runWatched(line, run)
  const program = buildProgram({ finish, watched }, setups)
  try {
    await program.parseAsync(line, { from: 'user' })
  } catch (error) {
    // Help and version were asked for, and printed.
    if (error instanceof CommanderError && error.exitCode === 0) return status
    throw withOwnHelp(error, program.commands.find((command) => command.name() === line[0])?.name() ?? null)
  }
  return status
}

/** A mistake in the arguments of `command` with the help that tells them; any other error as it is. */
function withOwnHelp(error: unknown, command: string | null): unknown {
  const text =
    error instanceof CommanderError
      ? asSentence(error.message.replace(/^error: /, ''))
      : error instanceof Problem && error.code === 'usage'
        ? error.message
        : null
  if (text === null) return error
  return command === null
    ? new Problem('usage', text)
    : new Problem('usage', text, `Run \`makebreak ${command} --help\` to see what it takes.`)
}

type Finish = (status: number) => void

/** Runs a command that may run drivers of the user's own, watched where there are such; gives its exit status. */
type Watched = (run: () => Promise<number>) => Promise<number>

function buildProgram({ finish, watched }: { finish: Finish; watched: Watched }, setups: SetupHelp | null): Command {
  const program = new Command('makebreak')
    .description('Proves small draft and vacuum switches on the bench: make, break and differential, decided.')
    .version(readVersion(), '-V, --version', 'print the version')
    .helpCommand(false)
    .configureHelp({ helpWidth: 80 })
    .configureOutput({ outputError: () => {} })
    .exitOverride()
    .addHelpText('after', () => helpText('', setups))
  for (const add of [
    addRun,
    addReplay,
    addCheck,
    addKey,
    addPorts,
    addSimulate,
    addCurve,
    addReport,
    addTag,
    addBundle,
    addCapability,
    addPlanBench,
    addRig,
    addDriver,
    addSchema,
  ])
    add(program, finish, watched)
  // Below the options of each command, its examples.
  for (const command of program.commands)
    for (const each of [command, ...command.commands]) each.addHelpText('after', () => helpText(command.name(), setups))
  return program
}

function subcommand(program: Command, name: string, description: string): Command {
  return program.command(name).description(description)
}

function addRun(program: Command, finish: Finish): void {
  subcommand(program, 'run', 'test a switch: record, measure, decide')
    .option('--part <file|name>', 'what is tested')
    .option('--rig <file|name>', 'what it is tested with')
    .option('--serial <number>', 'serial number of this part, in place of the one in the part file')
    .option('--operator <name>', 'who tests')
    .option('--customer <name>', 'who it is tested for')
    .option('--order <number>', 'order that it belongs to')
    .addOption(new Option('--purpose <purpose>', 'why').choices(purposes).default('certify'))
    .option('--cycles <number>', 'cycles to count; 10 or more give a repeatability', wholeFrom(5, 50))
    .option('--strokes <number>', 'strokes in all, in place of cycles; 30 show rarer faults', wholeFrom(11, 100))
    .option('--precondition <number>', 'strokes before them; 3 where left out', wholeFrom(0, 20))
    .option('--data-dir <folder>', 'where the recording goes')
    .option('--no-bell', 'no bell at make and break')
    .option('--plain', 'lines of text instead of a screen, in real time')
    .action(async (options) => finish((await (await import('./commands/run.ts')).runTest(options)).status))
}

function addReplay(program: Command, finish: Finish, watched: Watched): void {
  subcommand(program, 'replay', 'recalculate recordings')
    .argument('<file...>', 'recordings')
    .option('--json', 'one line of JSON a file')
    .option('--budget', 'add the uncertainty budget as a table')
    .option('--watch', 'show it as it happened')
    .option('--speed <factor>', 'with --watch: so many times as fast', numberFrom(0.1, 1000, ''))
    .action(async (files, options) => {
      const run = async () => (await import('./commands/replay.ts')).replayFiles(files, options)
      // What plays it on the screen has a thread of its own.
      const onScreen = options.watch && (await import('./commands/watch-recording.ts')).watchesOnScreen()
      finish(await (onScreen ? run() : watched(run)))
    })
}

function addCheck(program: Command, finish: Finish, watched: Watched): void {
  subcommand(program, 'check', 'say whether recordings are whole, and who signed them')
    .argument('<file...>', 'recordings, or bundles of them')
    .option('--key <file>', 'public key that they must be signed by')
    .action(async (files, options) =>
      finish(await watched(async () => (await import('./commands/check.ts')).checkFiles(files, options))),
    )
}

function addKey(program: Command, finish: Finish): void {
  subcommand(program, 'key', 'show the key that signs the recordings of this bench')
    .option('--public', 'the public key alone, for a file to give away')
    .option('--passphrase', 'set a passphrase, change it, or take it off')
    .option('--replace', 'make a new key; the old one is kept beside it')
    .action(async (options) => finish(await (await import('./commands/key.ts')).tellKey(options)))
}

function addSimulate(program: Command, finish: Finish): void {
  subcommand(program, 'simulate', 'record a simulated bench, or offer its instruments')
    .argument('[bench]', 'which bench; good where none is named')
    .option('--list', 'name the benches')
    .option('--seed <number>', 'seed of the random numbers', wholeFrom(0, Number.MAX_SAFE_INTEGER), 1)
    .option('--random', 'any bench, good or faulty')
    .option('--short', 'short rests and few lines, for a small file')
    .option('--out <folder>', 'where the files go')
    .option('--serve', 'offer the instruments on pseudo-terminals')
    .option('--speed <factor>', 'with --serve: so many times as fast', numberFrom(0.1, 10, ''))
    .action(async (name, options) => finish(await (await import('./commands/simulate.ts')).simulate(name, options)))
}

function addCurve(program: Command, finish: Finish, watched: Watched): void {
  subcommand(program, 'curve', 'draw the trip-point curve of a recording')
    .argument('<file>', 'recording')
    .option('--out <folder>', 'where the files go', '.')
    .addOption(new Option('--decimal <sign>', 'in CSV; that of the settings where left out').choices(decimals))
    .action(async (file, options) =>
      finish(await watched(async () => (await import('./commands/curve.ts')).writeCurve(file, options))),
    )
}

function addReport(program: Command, finish: Finish, watched: Watched): void {
  subcommand(program, 'report', 'write the test report of recordings: PDF, HTML or text')
    .argument('<file...>', 'recordings')
    .option('--out <folder>', 'where the files go', '.')
    .option('--html', 'HTML in place of PDF')
    .option('--text', 'plain text in place of PDF')
    .option('--csv', 'tables of results and of strokes in place of reports')
    .addOption(new Option('--decimal <sign>', 'in CSV; that of the settings where left out').choices(decimals))
    .option('--print', 'print them too, by lp; on Windows they are opened')
    .option('--number <number>', 'number of the report; the next of this bench where left out')
    .option('--issued <day>', 'with --number: its day of issue, such as 2027-03-14', dayFrom)
    .addOption(new Option('--paper <size>', 'of the PDF; that of the settings where left out').choices(papers))
    .action(async (files, options) =>
      finish(await watched(async () => (await import('./commands/report.ts')).writeReports(files, options))),
    )
}

function addTag(program: Command, finish: Finish, watched: Watched): void {
  subcommand(program, 'tag', 'write the tags of recordings: PDF, or PNG for a label printer')
    .argument('<file...>', 'recordings')
    .option('--out <folder>', 'where the files go', '.')
    .addOption(
      new Option('--form <form>', 'a tag of 40 x 20 mm, many on a sheet, or one for a roll of 62 mm')
        .choices(['single', 'sheet', 'roll'])
        .default('single'),
    )
    .addOption(new Option('--png <dpi>', 'PNG in dots of this printer, in place of PDF').choices(['203', '300']))
    .option('--used <places>', 'with --form sheet: places of the first sheet to leave free', wholeFrom(0, 1000))
    .addOption(new Option('--paper <size>', 'of a sheet; that of the settings where left out').choices(papers))
    .option('--number <number>', 'number of the report; that of this bench where left out')
    .action(async (files, options) =>
      finish(await watched(async () => (await import('./commands/tag.ts')).writeTags(files, options))),
    )
}

function addBundle(program: Command, finish: Finish, watched: Watched): void {
  subcommand(program, 'bundle', 'pack recordings with all that proves them into one .zip')
    .argument('<file...>', 'recordings')
    .option('--out <folder>', 'where it goes', '.')
    .addOption(new Option('--paper <size>', 'of the reports; that of the settings where left out').choices(papers))
    .action(async (files, options) =>
      finish(await watched(async () => (await import('./commands/bundle.ts')).bundleFiles(files, options))),
    )
}

function addCapability(program: Command, finish: Finish, watched: Watched): void {
  subcommand(program, 'capability', 'say before a test what a rig can decide of a part')
    .requiredOption('--part <file|name>', 'what will be tested')
    .requiredOption('--rig <file|name>', 'what it will be tested with')
    .option('--cycles <number>', 'cycles planned; 5 where left out', wholeFrom(2, 1000))
    .option('--scatter <percent>', 'of the rated point; 0.5 where left out', numberFrom(0.001, 50, '%'))
    .option('--json', 'one line of JSON')
    .action(async (options) =>
      finish(await watched(async () => (await import('./commands/capability.ts')).tellCapability(options))),
    )
}

function addPlanBench(program: Command, finish: Finish, watched: Watched): void {
  subcommand(program, 'plan-bench', 'say which ballast, needle and ramp suit a part')
    .requiredOption('--part <file|name>', 'what will be tested')
    .option('--rig <file|name>', 'what it will be tested with')
    .option('--json', 'one line of JSON')
    .action(async (options) =>
      finish(await watched(async () => (await import('./commands/plan-bench.ts')).tellBenchPlan(options))),
    )
}

function addRig(program: Command, finish: Finish, watched: Watched): void {
  const rig = subcommand(program, 'rig', 'learn its instruments, and its lag from its recordings')
    .helpCommand(false)
    .action(() => {
      throw new Problem(
        'usage',
        '`rig` takes a command: `makebreak rig learn --port PORT`, or `makebreak rig lag RECORDINGS`.',
      )
    })
  rig
    .command('learn')
    .description('find out how unknown instruments talk; write the rig file')
    .option('--port <path...>', 'where they are; left out: the one or two ports there are')
    .option('--rig <file|name>', 'the file to write, or to add to', 'bench')
    .action(async (options) => finish(await (await import('./commands/learn/learn-rig.ts')).learnRig(options)))
  rig
    .command('lag')
    .description('pool the lags that finished tests have shown')
    .argument('<file...>', 'recordings of one rig')
    .option('--json', 'one line of JSON')
    .action(async (files, options) =>
      finish(await watched(async () => (await import('./commands/rig-lag.ts')).pooledLag(files, options))),
    )
}

function addDriver(program: Command, finish: Finish, watched: Watched): void {
  const driver = subcommand(program, 'driver', 'list the drivers; check one of your own')
    .helpCommand(false)
    .action(() => {
      throw new Problem('usage', '`driver` takes a command: `makebreak driver list`, or `makebreak driver check FILE`.')
    })
  driver
    .command('list')
    .description('say which drivers there are, or what one takes')
    .argument('[id]', 'a driver, such as modbus-rtu')
    .action(async (id) =>
      finish(await watched(async () => (await import('./commands/list-drivers.ts')).listDrivers(id))),
    )
  driver
    .command('check')
    .description('say case by case whether a driver keeps to the contract')
    .argument('<file>', 'a self-contained .mjs that exports `driver`')
    .action(async (file) => finish(await (await import('./commands/check-driver.ts')).checkDriverFile(file)))
}

function addSchema(program: Command, finish: Finish): void {
  subcommand(program, 'schema', 'print the JSON Schema of a part or rig file')
    .addArgument(new Argument('<kind>', 'which file').choices(['part', 'rig']))
    .action(async (kind) => finish((await import('./commands/schema.ts')).printSchema(kind)))
}

function addPorts(program: Command, finish: Finish): void {
  subcommand(program, 'ports', 'list the serial ports; say what they send')
    .argument('[path...]', 'look at these ports instead of all')
    .option('--listen <seconds>', 'listen at each port this long', numberFrom(0.1, 600, 's'))
    .option('--baud <rate>', 'a rate to listen at, or all', '9600')
    .option('--ask', 'send each driver’s question to a port that stays silent')
    .action(async (paths, options) => finish(await (await import('./commands/ports.ts')).showPorts(paths, options)))
}
