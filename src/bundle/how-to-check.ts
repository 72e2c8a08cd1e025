// What a bundle holds into a text that says how to check it with common tools: what to type, and what has to come out.
import { howToName, sumsName } from './entry.ts'

export type BundledRecording = {
  run: string
  json: string
  report: string
  sha256: string
  verdict: string
  simulated: boolean
  /** The seal at its end, of as many lines before it; null where there is none that holds. `plain`: its line is written as the program writes one. */
  seal: { lines: number; sha256: string; plain: boolean } | null
  /** Key and signature of that seal; `pem`: the file of its public key, null where it is not in the bundle. `holds`: whether it fits. */
  signed: { key: string; signature: string; pem: string | null; holds: boolean } | null
  /** The user's own drivers that it was recorded with; `file`: null where it is not in the bundle. */
  drivers: readonly { id: string; sha256: string; file: string | null }[]
}

/** `names`: of the files in the order of their list, this one not among them. */
export function howToCheck(
  recordings: readonly BundledRecording[],
  names: readonly string[],
  software: string,
): string {
  const first = recordings[0]!
  return [
    'How to check this bundle',
    '',
    'The tools sha256sum, head, tail, wc, echo, base64 and openssl (3 or newer) are enough.',
    'Unpack the bundle and open a terminal in its folder. Type what follows each $;',
    'what has to come out is below it. Anything else, and that step does not hold.',
    '',
    '1. Nothing was damaged on its way',
    '',
    ...command(`sha256sum -c ${sumsName}`, ...[...names, howToName].map((name) => `${name}: OK`)),
    '',
    '   That shows accident, not intent: who changes a file can change the list too.',
    '',
    ...recordings.flatMap((recording, i) => [...stepsOf(recording, i + 2), '']),
    `${recordings.length + 2}. With makebreak`,
    '',
    '   `makebreak check` with the name of the .zip does all of that, and works the',
    `   verdict out again. \`makebreak replay ${first.run}\` shows what it rests on.`,
    `   The results here were worked out by makebreak ${software}.`,
    ...(recordings.some(({ drivers }) => drivers.some(({ file }) => file !== null))
      ? [
          '   The files in drivers/ are programs: they read the bytes of an instrument.',
          '   Nothing runs them by itself. Run one only if you trust who wrote it.',
        ]
      : []),
    '',
    'What this proves, and what it does not',
    '',
    '   A signature that holds shows that whoever has the key sealed these bytes, and',
    '   that nobody changed one since. It does not show that the readings are true:',
    '   who holds the key can lie.',
    ...(recordings.some(({ signed }) => signed?.pem)
      ? [
          '   The key in this bundle came with it: it is the key of the bench only if its',
          '   fingerprint is the one that you have on paper.',
        ]
      : []),
    '',
  ].join('\n')
}

const command = (typed: string, ...printed: string[]) => [`    $ ${typed}`, ...printed.map((line) => `    ${line}`)]

function stepsOf(recording: BundledRecording, step: number): string[] {
  const { run, json, report, sha256, verdict, simulated, seal } = recording
  return [
    `${step}. ${run}: ${simulated ? `SIMULATED ${verdict}, no real part was tested` : verdict}`,
    '',
    ...command(`sha256sum ${run}`, `${sha256}  ${run}`),
    '',
    '   Paper is about this very recording if these digits are on it: all of them on',
    `   its report (${report}), the first sixteen in the code of its tag.`,
    `   ${json} holds its result.`,
    '',
    ...(seal === null
      ? ['   It does not end with a seal that holds: it was cut, changed or never finished.']
      : sealSteps(run, seal)),
    ...signatureSteps(recording),
    ...driverSteps(recording),
  ]
}

function sealSteps(run: string, { lines, sha256, plain }: NonNullable<BundledRecording['seal']>): string[] {
  return [
    '   Its last line is its seal: how many lines are before it, and their digest.',
    '',
    ...command(`head -n -1 ${run} | wc -l`, String(lines)),
    ...command(`head -n -1 ${run} | sha256sum`, `${sha256}  -`),
    ...(plain
      ? command(
          `tail -n 1 ${run} | grep -o '"lines":[0-9]*,"sha256":"[0-9a-f]*"'`,
          `"lines":${lines},"sha256":"${sha256}"`,
        )
      : []),
    '',
  ]
}

function signatureSteps({ run, simulated, seal, signed }: BundledRecording): string[] {
  if (seal === null) return []
  if (signed === null)
    return [
      simulated
        ? '   It is not signed: no simulated recording is.'
        : '   It is not signed: its seal shows accident, not intent.',
    ]
  const { key, signature, pem, holds } = signed
  if (pem === null)
    return ['   It names the key', `   ${key},`, '   which is not in this bundle: ask the bench for its public key.']
  if (!holds) return ['   It has a signature that does NOT fit its seal and its key.']
  return [
    '   Its seal is signed. The second line that comes out is the fingerprint of the',
    '   key: compare it, digit by digit, with the one that the bench gave you on paper.',
    '',
    ...command(`tail -n 1 ${run} | grep -o '"key":.*"'`, `"key":"${key}","sig":"${signature}"`),
    ...command(`openssl pkey -pubin -in ${pem} -outform DER | sha256sum`, `${key}  -`),
    ...command(`echo "makebreak seal ${seal.lines} ${seal.sha256} ${key}" > message`),
    ...command(`echo "${signature}" | base64 -d > signature`),
    ...command(
      `openssl pkeyutl -verify -pubin -inkey ${pem} -rawin -in message -sigfile signature`,
      'Signature Verified Successfully',
    ),
  ]
}

function driverSteps({ run, drivers }: BundledRecording): string[] {
  if (drivers.length === 0) return []
  const stated = JSON.stringify(Object.fromEntries(drivers.map(({ id, sha256 }) => [id, sha256])))
  return [
    '',
    '   It was recorded with drivers of the bench’s own; its first line has their digests.',
    '',
    ...command(`head -n 1 ${run} | grep -o '"drivers":{[^}]*}'`, `"drivers":${stated}`),
    ...drivers.flatMap(({ id, sha256, file }) =>
      file === null
        ? [`   The file of ${id} is not in this bundle: today's is not the one that recorded this.`]
        : command(`sha256sum ${file}`, `${sha256}  ${file}`),
    ),
  ]
}
