// What `--help` adds to the list of options: worked examples, what the files are, what the exit statuses mean.
import { userFolders } from './user-folders.ts'

const statuses = `Exit status
  0   every recording passed, or the command did its work
  1   at least one part failed
  2   none failed, but one is undecided, void or not assessed
      (check: a file is torn, damaged or has no seal, is missing
      in between, or is not signed as it says)
  64  the command line is wrong        65  a file cannot be used
  69  a port cannot be used            70  a fault in the program
  72  a folder is not there            73  a folder may not be written
  74  a recording cannot be written    75  the disk is full
  78  no Node that can run it (22.13 or newer)`

const cautions = `Before you connect a switch
  Take it out of the appliance, disconnect mains first and prove it dead.
  Never put a resistance meter on a live circuit. Never draw or blow by mouth.
  Local codes, the appliance's instructions and licensed practice come first.`

const overview = `With nothing at all on a terminal the start screen opens: tests, parts, rigs,
recordings, simulated faults and lessons. With options only, or without a
terminal, \`run\` is meant; with no rig set up it uses a simulated bench, so it
can be tried with no hardware at all.

First steps
  makebreak                              the start screen; Enter tries a test
  makebreak ports --listen 5             which ports there are, what they send
  makebreak run --part dp62.json --rig bench.json
  makebreak replay 20270314-*.run        the same verdict from the recording

Files
  part       one kind of switch: rating and limits      (makebreak run --help)
  rig        your instruments and their ports           (makebreak run --help)
  recording  .run: every byte of one test, sealed; all else is worked out from it`

/** What the schemas of part and rig file say; it takes a while to load, so that only the help that shows it does. */
export type SetupHelp = { partExample: string; rigExample: string; partFields: string; rigFields: string }

/** Commands whose help shows what part and rig file hold. */
export const showsSetups: readonly string[] = ['run', 'schema']

/** The text below the options of `command`; '' is the program itself. `setups` for those that show them. */
export function helpText(command: string, setups: SetupHelp | null): string {
  return `\n${texts[command]?.(setups) ?? ''}`
}

const texts: Record<string, (setups: SetupHelp | null) => string> = {
  '': () => `${overview}

${statuses}

${cautions}`,
  run: (setups) => `NAME means NAME.json in
  ${userFolders().parts}
  ${userFolders().rigs}
Left out: the one that is there; with no rig at all, the simulated bench.

Examples
  makebreak run --part dp62.json --rig bench.json --serial A1047
  makebreak run --part dp62 --rig north --plain      lines instead of a screen
  makebreak run --part dp62 --rig north --cycles 10       with a repeatability
  makebreak run --part dp62 --rig north --purpose free    record, no verdict

${setups?.partExample}

${setups?.rigExample}

${cautions}`,
  replay: () => `Examples
  makebreak replay test.run
  makebreak replay *.run --json                  one line of JSON a file
  makebreak replay test.run --budget             what makes its uncertainty
  makebreak replay test.run --watch --speed 10   again, ten times as fast`,
  check: () => `Examples
  makebreak check *.run
  makebreak check *.run --key bench.pem      all must be signed by this key
  makebreak check lot-bundle.zip             a bundle and all in it
One line a file: whole, torn (the machine died while writing), or damaged at the
lines named; and who signed it. Recordings of a bench are a chain, each names
the one before: name them all, and a missing one in between shows. A missing
last one shows only against the ledger or the numbers on paper.
A signature that holds shows that whoever has the key sealed these bytes and
nobody changed one since. It does not show that they are true: who holds the key
can lie. Know the key by its fingerprint on paper, not by what comes with a
file.
A simulated recording is never signed. A missing signature is an error only with
--key.
Exit status 0 all whole, 2 one is not, is missing in between or is not signed as
it says, 65 one cannot be read.`,
  key: () => `Examples
  makebreak key                              fingerprint, public key, advice
  makebreak key --public > bench.pem         for those who check your recordings
  makebreak key --passphrase                 asked before the first test then
  makebreak key --replace                    when the old one is lost or known
The key is made on first use, in
  ${userFolders().signing}
Public keys of others, as .pem files in there, are known to check too.`,
  ports: () => `Examples
  makebreak ports
  makebreak ports --listen 5                 what each port sends, at 9600 baud
  makebreak ports --listen 2 --baud all      at each usual rate
  makebreak ports --listen 5 --ask           also send each driver's question to
                                             a port that stays silent`,
  simulate: () => `Examples
  makebreak simulate --list                  the benches there are
  makebreak simulate good --seed 7 --out try
  makebreak simulate --random --seed 7       any bench, good or faulty
  makebreak simulate good --serve            instruments on pseudo-terminals; it
                                             prints the run command to type
  makebreak simulate good --serve --short --speed 4
                                             a brisk bench: tested in a minute
The truth goes into a side file, NAME.truth.json, which nothing else reads.`,
  report: () => `Examples
  makebreak report test.run --out papers
  makebreak report test.run --html --number 27-0114 --issued 2027-03-14
  makebreak report lot/*.run --out papers --paper letter --print
  makebreak report lot/*.run --csv --decimal comma      results.csv, cycles.csv
One file for each part; of several recordings also a summary. What is simulated,
void, undecided or not sealed says so across each page. What is not in the
recording is printed as "not recorded". Shop, address, logo, paper, second unit
and decimal sign are typed in the screen Settings, and kept in
  ${userFolders().shop}`,
  tag: () => `Examples
  makebreak tag test.run --out tags          40 x 20 mm, as PDF
  makebreak tag lot/*.run --out tags --form sheet --used 5
  makebreak tag test.run --png 203           for a printer of 203 dots an inch
  makebreak tag test.run --form roll --png 300
A tag has verdict, part, serial number, make and break with U, date, the number
of the report, and a Data Matrix of capitals, digits and spaces: number, serial
number and 16 digits of the recording's sha256. Scanned or typed where the
serial number is asked for, code or number open that part. A part that failed
gets a reject tag with the reason. What is simulated, void, not assessed,
undecided, torn or not sealed says so on it in white on black, and in its code.
A sheet has lines to cut along; print at true size (100 %).`,
  bundle: () => `Examples
  makebreak bundle test.run --out papers
  makebreak bundle lot/*.run --out papers        all of them in one .zip
  makebreak check papers/test-bundle.zip --key bench.pem
In it: the recordings, the result of each as JSON, its test report, the drivers
of your own that recorded them where their files are still the same, the public
key where they are signed, SHA256SUMS, and HOW-TO-CHECK.txt, which says what to
type into sha256sum and openssl and what has to come out. The same recordings
give the same bytes. A customer knows your key by its fingerprint on paper, not
by what comes in the bundle.`,
  capability: () => `Examples
  makebreak capability --part dp62 --rig north
  makebreak capability --part dp62 --rig north --cycles 10 --scatter 1
Says the uncertainty to expect, which results would pass, how often a good part
would end undecided, and which manometer would decide it where this one cannot.
Exit status 0 a result could pass, 2 none could.`,
  'plan-bench': () => `Examples
  makebreak plan-bench --part dp62
  makebreak plan-bench --part dp62 --rig north   with its meter and its lag
Says which bottle steadies the hand, what a jerk of the plunger and the kick of
the switch do, which needle ramps by itself, how fast to go, and what lag, heat
and leaks may cost, each with its formula.`,
  rig: () => `Examples
  makebreak rig learn                        the instruments at the ports here
  makebreak rig learn --port /dev/ttyUSB0 --rig north
  makebreak rig lag 202703*.run

learn listens to a port at each usual setting, asks where nothing comes, and
shows what it read. Then it asks what the instrument's own display shows, with
the hose open and at a small pull, of a meter with its clips apart and together:
only a way to read the line that agrees is written. It asks before it replaces
an instrument in the file. Ctrl-C ends it (status 130), as do 69: nothing heard.

lag:
Each finished test shows the time between the contact's path and the pressure's.
Pooled by inverse variance, they make the \`lag\` of the rig file. Where they
differ by more than they state, that is said, and the uncertainty is widened.
Exit status 0 there is a lag, 2 no recording shows it.`,
  driver: () => `Examples
  makebreak driver list                      which drivers there are
  makebreak driver list modbus-rtu           what one takes in a rig file
  makebreak driver check my-line.mjs
One line a case: pass, or fail with value, limit and next step. A transcript
beside it, my-line.transcript.json, says what bytes of the instrument mean:
  [{ "name": "two lines", "role": "manometer", "bytes": "1 Pa\\n2 Pa\\n",
     "readings": [{ "quantity": "pressure", "value": 2, "unit": "Pa",
                    "digit": 1, "frameBytes": 5 }], "faults": [] }]
"Infinity", "-Infinity" and "NaN" are written as texts. For a driver that hears
what was sent, "bytes" is a list in which { "sent": "READ?\\n" } is a command.
Without a transcript what the driver decodes is not compared.
The driver runs in a thread that is watched: 5 s without an answer or 300 MB of
memory end it. That guards against mistakes, not against malice: check only a
file that you would run.
Exit status 0 all cases pass, 65 one fails or the driver was ended.`,
  curve: () => `Example
  makebreak curve test.run --out plots
Writes the pressure against time with its trips, and the contact against the
pressure, as SVG and CSV. Works for every purpose, --purpose free too. With
--decimal comma columns are parted by semicolons, for spreadsheets that expect
that.`,
  schema: (setups) => `Examples
  makebreak schema part > part.schema.json
  makebreak schema rig > rig.schema.json
JSON Schema (draft 2020-12) of the files, for an editor that checks them as they
are written. Of a unit it takes the name that is shown; the program reads other
spellings too, such as in wc. A pressure has its unit beside it.

Part file
${setups?.partFields}

Rig file (bridge: one board in place of both, with the fields of both;
manometer-2: one more at the switch end, with those of manometer)
${setups?.rigFields}`,
}
