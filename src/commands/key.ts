// `key`: the key of this bench shown, with a passphrase or without one, or replaced.
import { fingerprintLines, shortFingerprint } from '../core/text/fingerprint-text.ts'
import { Problem } from '../errors.ts'
import { type BenchKey, openBenchKey, replaceBenchKey, rewriteBenchKey } from '../signing/bench-key.ts'
import { publicPem } from '../signing/key-file.ts'
import { userFolders } from '../user-folders.ts'
import { askSecret } from './ask-secret.ts'
import { print, printWords } from './print.ts'
import { keyNotes, unlockBenchKey } from './unlock-key.ts'

export type KeyOptions = { public?: true; passphrase?: true; replace?: true }

/** Exit status 0. */
export async function tellKey(options: KeyOptions): Promise<number> {
  if (Object.keys(options).length > 1)
    throw new Problem('usage', '--public, --passphrase and --replace are three things: choose one.')
  const { signing } = userFolders()
  if (options.replace) return replace(signing)
  const bench = openBenchKey(signing)
  if (options.passphrase) return changePassphrase(signing, bench)
  if (options.public) for (const line of publicPem(bench.publicKey).trimEnd().split('\n')) print(line)
  else tell(bench)
  return 0
}

function tell(bench: BenchKey): void {
  const { publicKey, fingerprint, file, locked } = bench
  print('Fingerprint of the key of this bench')
  for (const line of fingerprintLines(fingerprint)) print(`  ${line}`)
  print('')
  print('Public key')
  for (const line of publicPem(publicKey).trimEnd().split('\n')) print(`  ${line}`)
  print('')
  print(`File: ${file} (${locked ? 'with a passphrase' : 'without a passphrase'})`)
  for (const note of keyNotes({ ...bench, fresh: false })) printWords(note)
  for (const [title, ...words] of advice) {
    print('')
    print(title!)
    for (const text of words) printWords(text)
  }
}

const advice = [
  [
    'What it is for',
    'It signs each recording of a real bench, never a simulated one. A signature that holds shows that whoever has the key sealed these bytes, and that nobody changed one since. It does not show that the readings are true: who holds the key can lie.',
    'Give customers the fingerprint on paper: by that, and by nothing that comes with a file, they know your key.',
  ],
  [
    'Back it up',
    'Copy the file to a stick that you lock away. Whoever has it and its passphrase can sign as you. A passphrase is set by `makebreak key --passphrase`; take four words or more, for a short one can be guessed by a machine.',
  ],
  [
    'Replace it',
    'Where the file was lost or somebody else may have read it: `makebreak key --replace`. Tell customers the new fingerprint, and the day. Older recordings stay signed by the old key, which is kept beside the new one.',
  ],
]

async function changePassphrase(folder: string, bench: BenchKey): Promise<number> {
  const key = await unlockBenchKey(bench)
  const typed = await askSecret('New passphrase (Enter alone: none): ')
  const again = typed === '' ? '' : await askSecret('Once more: ')
  if (typed === null || again === null)
    throw new Problem('key-locked', 'No passphrase was typed.', 'Nothing was changed; a terminal is needed to type it.')
  if (typed !== again) throw new Problem('key-locked', 'The two passphrases differ.', 'Nothing was changed; try again.')
  rewriteBenchKey(folder, key, typed === '' ? null : typed)
  print(`The key ${shortFingerprint(bench.fingerprint)} has ${typed === '' ? 'no' : 'a new'} passphrase now.`)
  return 0
}

function replace(folder: string): number {
  const kept = replaceBenchKey(folder)
  if (kept !== null) printWords(`The old key is kept in ${kept}, so that its recordings are known.`)
  tell(openBenchKey(folder))
  return 0
}
