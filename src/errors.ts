// The catalogue of errors: every sentence a user can meet, with its exit status and the next step.
import { errorText } from './core/text/error-text.ts'
import { escapeControls } from './core/text/escape-controls.ts'

/** Exit statuses (sysexits numbers where one fits); `verdict` statuses 0, 1 and 2 come from results, never from errors. */
export const exitCodes = {
  ...{ usage: 64, unreadable: 65, unavailable: 69, internal: 70, absent: 72, forbidden: 73, failed: 74, full: 75 },
  node: 78,
} as const

type Entry = { exit: keyof typeof exitCodes; next: string }

const catalogue = {
  usage: { exit: 'usage', next: 'Run `makebreak --help` to see the commands and their options.' },
  'file-missing': { exit: 'unreadable', next: 'Check the path; a relative path starts at the current folder.' },
  'file-unreadable': { exit: 'unreadable', next: 'Check that you may read the file and that it is not a folder.' },
  'folder-missing': {
    exit: 'absent',
    next: 'Make the folder or connect its drive again, or name another folder.',
  },
  'folder-unwritable': {
    exit: 'forbidden',
    next: 'Name another folder, or change the rights of this one.',
  },
  'not-json': { exit: 'unreadable', next: 'Correct the file at the place named, then run the command again.' },
  'part-invalid': { exit: 'unreadable', next: 'Correct the field named in the part file, then run the command again.' },
  'rig-invalid': { exit: 'unreadable', next: 'Correct the field named in the rig file, then run the command again.' },
  'settings-invalid': {
    exit: 'unreadable',
    next: 'Correct it in the settings (start screen, Settings) or in the file named, then try again.',
  },
  'setup-changed': {
    exit: 'unreadable',
    next: 'Nothing was written over; choose another name, or open it again and change that.',
  },
  'driver-unknown': {
    exit: 'unreadable',
    next: 'Use one of the drivers named, or put your own into the config folder.',
  },
  'driver-invalid': { exit: 'unreadable', next: 'Correct or remove that driver file; the guide is in DEVELOPERS.md.' },
  'transcript-invalid': {
    exit: 'unreadable',
    next: 'Correct the field named in the transcript file, then run the command again.',
  },
  'recording-empty': { exit: 'unreadable', next: 'The file holds no event; look for a copy of the recording.' },
  'recording-foreign': {
    exit: 'unreadable',
    next: 'Name a .run file that makebreak or a program of the same format wrote.',
  },
  'recording-newer': { exit: 'unreadable', next: 'Install a newer makebreak to read it.' },
  'recording-exists': {
    exit: 'unreadable',
    next: 'Nothing is written over; name another folder, or move the old file away.',
  },
  'recording-damaged': {
    exit: 'unreadable',
    next: 'Look for an undamaged copy; `makebreak check FILE` names the damaged lines.',
  },
  'recording-line-ends': {
    exit: 'unreadable',
    next: 'Copy the recording from where it was made once more, as binary and not as text.',
  },
  'key-invalid': {
    exit: 'unreadable',
    next: 'Name a file that holds what `makebreak key --public` prints.',
  },
  'key-locked': {
    exit: 'unreadable',
    next: 'Type it on a terminal, or take it off with `makebreak key --passphrase`; a lost one needs `makebreak key --replace`.',
  },
  'numbers-damaged': {
    exit: 'unreadable',
    next: 'Put it back from a backup; without it the report would get a second number.',
  },
  'tag-unknown': {
    exit: 'unreadable',
    next: 'Type the serial number, or look for the recording among the backups and on the other benches.',
  },
  'bundle-unsafe': {
    exit: 'unreadable',
    next: 'Nothing was unpacked. Ask whoever it came from for one that `makebreak bundle` wrote.',
  },
  'bundle-too-large': { exit: 'unreadable', next: 'Put fewer recordings into one bundle.' },
  'bundle-invalid': { exit: 'unreadable', next: 'Copy it once more, as binary, from where it was made.' },
  'line-too-long': { exit: 'unreadable', next: 'Shorten the texts in the part and rig files, then try again.' },
  'disk-full': { exit: 'full', next: 'Make room on that disk, then start again; what was recorded is kept.' },
  'recording-failed': { exit: 'failed', next: 'Check the disk; what was written before is whole.' },
  'recording-astray': {
    exit: 'internal',
    next: 'Keep the file named last, find out what moved or changed the other, then test again.',
  },
  'recording-lost': {
    exit: 'internal',
    next: 'Find out what moves or changes files there, then test again: without its recording a test proves nothing.',
  },
  'port-absent': { exit: 'unavailable', next: 'Plug the adapter in, or run `makebreak ports` to see what is there.' },
  'port-unclear': { exit: 'unavailable', next: 'Run `makebreak ports` to see which adapter is where.' },
  'port-busy': { exit: 'unavailable', next: 'Close the other program that uses this port, then try again.' },
  'port-forbidden': {
    exit: 'unavailable',
    next: 'Join the group that owns the port (on most Linux systems: sudo usermod -aG dialout $USER), log in again.',
  },
  'port-failed': { exit: 'unavailable', next: 'Check cable, adapter and settings, then try again.' },
  'port-silent': {
    exit: 'unavailable',
    next: 'Switch the instrument on, check the lead (for one that is powered by DTR and RTS, these were tried on and off) and that its serial output is on, then try again.',
  },
  'port-garbled': {
    exit: 'unavailable',
    next: 'Check the baud rate and frame (data bits, parity) in the rig file against the instrument.',
  },
  'display-held': {
    exit: 'unavailable',
    next: 'Switch hold, minimum, maximum or relative off on that instrument, then try again.',
  },
  'battery-low': { exit: 'unavailable', next: 'Change the batteries of that instrument, then try again.' },
  'line-held': {
    exit: 'unavailable',
    next: 'Switch off what holds the display (HOLD, MIN, MAX, REL) or change its battery, then try again.',
  },
  'line-unknown': {
    exit: 'unavailable',
    next: 'Try another output format on the instrument, or write a driver for it: DEVELOPERS.md has the guide.',
  },
  'display-differs': {
    exit: 'unreadable',
    next: 'Nothing was written. Check that this port belongs to that instrument, then try again.',
  },
  'ports-swapped': { exit: 'unavailable', next: 'Exchange the two port paths in the rig file.' },
  'rigs-mixed': {
    exit: 'usage',
    next: 'Name recordings of one rig only: the lag belongs to its instruments and hoses.',
  },
  'scenario-unknown': { exit: 'usage', next: 'Use one of the names given, or `random`.' },
  'pseudo-terminal-missing': {
    exit: 'unavailable',
    next: 'On Linux or macOS install the optional package @lydell/node-pty (npm install); on Windows run without --serve.',
  },
  'print-failed': {
    exit: 'unavailable',
    next: 'Set up a printer that `lp` knows, or print the file from another computer.',
  },
  'fold-ended': {
    exit: 'internal',
    next: 'The recording is whole and proves nothing; try a driver of your own with `makebreak driver check FILE`, then test again.',
  },
  'acquisition-died': { exit: 'internal', next: 'What was recorded is whole on disk; start the test again.' },
  internal: { exit: 'internal', next: 'Please report it with the recording; what was recorded is safe.' },
} as const satisfies Record<string, Entry>

export type ProblemCode = keyof typeof catalogue

/** An error a user may meet: what is wrong (value, unit, limit) in `message`, what to do in `next`. */
export class Problem extends Error {
  readonly code: ProblemCode
  readonly next: string
  readonly exitCode: number

  /**
   * `text` says what is wrong in one sentence with the value and the limit; the next step comes from the catalogue.
   * Control characters in it are shown, never sent. `next`: a nearer step than the catalogue's.
   */
  constructor(code: ProblemCode, text: string, next: string = catalogue[code].next) {
    super(escapeControls(text))
    this.name = 'Problem'
    this.code = code
    this.next = next
    this.exitCode = exitCodes[catalogue[code].exit]
  }
}

/** Whether `problem` is that the path of a recording does not lead to it. */
export function isAstray({ code }: Problem): boolean {
  return code === 'recording-astray' || code === 'recording-lost'
}

/** A text from elsewhere as one sentence: one line with its end. */
export function asSentence(text: string): string {
  const line = text.replaceAll(/\s*\n\s*/g, ' ').trim()
  return /[.?!)]$/.test(line) ? line : `${line}.`
}

/** What the system said when `path` could not be opened, as the problem it is. `why` is the message of the serial library. */
export function openProblem(path: string, why: string): Problem {
  if (/no such file|file not found|ENOENT|no such device/i.test(why))
    return new Problem('port-absent', `Port ${path} not found.`)
  if (/cannot lock|resource busy|EBUSY|temporarily unavailable/i.test(why))
    return new Problem('port-busy', `The port ${path} is in use by another program.`)
  // Windows says "Access denied" of a port that another program holds.
  if (/access denied/i.test(why)) return new Problem('port-busy', `The port ${path} is held by another program.`)
  if (/permission denied|EACCES|EPERM/i.test(why))
    return new Problem('port-forbidden', `This user may not open the port ${path}.`)
  if (/is a directory|EISDIR/i.test(why)) return new Problem('port-absent', `Port ${path} not found: it is a folder.`)
  if (/inappropriate ioctl|ENOTTY/i.test(why))
    return new Problem('port-failed', `${path} is not a serial port but a file of another kind.`)
  return new Problem('port-failed', `The port ${path} could not be opened (${why}).`)
}

/**
 * What the system said when a file or a folder could not be made, as the problem it is: no room, no way there, no right.
 * `what` says what could not be done, without a full stop; `path` is that of the file.
 */
export function folderProblem(error: unknown, what: string, path: string): Problem {
  const code = codeOf(error)
  if (noRoom.includes(code)) return writeProblem(path, error)
  if (['ENOENT', 'ENOTDIR', 'ENODEV', 'ENXIO'].includes(code))
    return new Problem('folder-missing', `${what}: the way to its folder does not exist (${code}).`)
  if (code === 'EROFS') return new Problem('folder-unwritable', `${what}: the disk may only be read (${code}).`)
  if (['EACCES', 'EPERM'].includes(code))
    return new Problem('folder-unwritable', `${what}: this user may not write there (${code}).`)
  return new Problem('folder-unwritable', `${what} (${code}).`)
}

/** What the system said when the recording at `path` could not be written, as the problem it is. */
export function writeProblem(path: string, error: unknown): Problem {
  const code = codeOf(error)
  if (noRoom.includes(code)) return new Problem('disk-full', `No space is left on the disk that holds ${path}.`)
  if (code === 'EFBIG')
    return new Problem('recording-failed', `The recording ${path} is as large as the system lets a file be (${code}).`)
  return new Problem('recording-failed', `The recording ${path} cannot be written (${code}).`)
}

const noRoom = ['ENOSPC', 'EDQUOT']

const codeOf = (error: unknown) => (error as NodeJS.ErrnoException | null)?.code ?? 'unknown error'

/** `error` as a Problem: what is none is a fault in the program, told in one line. */
export function asProblem(error: unknown): Problem {
  if (error instanceof Problem) return error
  const [what = ''] = (error instanceof Error ? error.message : errorText(error, 200)).trim().split(/\s*\n/)
  return new Problem('internal', `A fault in the program: ${asSentence(what)}`)
}
