// A folder of the user's into the key of the bench in it, which is made on first use, and into the other keys known there.
import { generateKeyPairSync, type KeyObject } from 'node:crypto'
import { chmodSync, mkdirSync, readdirSync, readFileSync, renameSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { folderProblem, Problem } from '../errors.ts'
import { createWhole } from '../recording/create-whole.ts'
import { isLocked, type KeyText, readKeyText, writeKeyText } from './key-file.ts'

export type BenchKey = KeyText & {
  file: string
  /** Whether a passphrase is needed to sign. */
  locked: boolean
  /** Whether it was made just now. */
  fresh: boolean
  /** The rights of its file, such as `644`, where others than its owner have some; null where none has, or the system has no such rights. */
  wide: string | null
}

/** `own`: of this bench, now or before; else of another whose public key was put here. */
export type KnownKey = { publicKey: KeyObject; fingerprint: string; own: boolean; file: string }

const ownName = 'bench.key'
const othersMayMask = 0o077

/** The key of the bench. Throws a Problem where `folder` takes no file, or what is in it is no key. */
export function openBenchKey(folder: string, windows = process.platform === 'win32'): BenchKey {
  const file = join(folder, ownName)
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 })
    const fresh = !readdirSync(folder).includes(ownName) && createWhole(file, freshKey(null))
    const { mode } = statSync(file)
    const found = readKeyText(readFileSync(file, 'utf8'))
    if (found === null || found.privatePem === null)
      throw new Problem(
        'key-invalid',
        `The file ${file} does not hold the key of this bench.`,
        'Put your backup of it there again, or make a new key with `makebreak key --replace`.',
      )
    const wide = !windows && (mode & othersMayMask) !== 0 ? (mode & 0o777).toString(8) : null
    return { ...found, file, fresh, locked: isLocked(found.privatePem), wide }
  } catch (error) {
    if (error instanceof Problem) throw error
    throw folderProblem(error, `The key of this bench, ${file}, cannot be read or made`, file)
  }
}

const freshKey = (passphrase: string | null) => writeKeyText(generateKeyPairSync('ed25519').privateKey, passphrase)

/** Writes the key of the bench once more, with this passphrase or without one. */
export function rewriteBenchKey(folder: string, privateKey: KeyObject, passphrase: string | null): void {
  put(folder, writeKeyText(privateKey, passphrase))
}

/** Makes a new key for the bench. The old one stays beside it, for its recordings; gives where, null where there was none. */
export function replaceBenchKey(folder: string): string | null {
  const old = readable(join(folder, ownName))
  const kept = old === null ? null : keep(folder, old)
  put(folder, freshKey(null))
  return kept
}

/** Keeps the text of a key file under a name of its own. */
function keep(folder: string, text: string): string {
  const stem = `replaced-${readKeyText(text)?.fingerprint.slice(0, 16) ?? 'broken'}`
  for (let n = 1; ; n++) {
    const path = join(folder, `${stem}${n === 1 ? '' : `-${n}`}.key`)
    try {
      if (createWhole(path, text) || readable(path) === text) return path
    } catch (error) {
      throw folderProblem(error, `The old key cannot be kept as ${path}`, path)
    }
  }
}

/** The old file or the new one is there at all times, whole. */
function put(folder: string, text: string): void {
  const file = join(folder, ownName)
  const next = join(folder, `next-${process.pid}.tmp`)
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 })
    if (!createWhole(next, text)) throw new Problem('internal', `The file ${next} is in the way.`)
    chmodSync(next, 0o600)
    renameSync(next, file)
  } catch (error) {
    if (error instanceof Problem) throw error
    throw folderProblem(error, `The key of this bench, ${file}, cannot be written`, file)
  }
}

/** The keys in `folder`: those of this bench, and those of others as `.pem`. None where it is not there; none is made. */
export function knownKeys(folder: string): KnownKey[] {
  let names: string[] = []
  try {
    names = readdirSync(folder).filter((name) => /\.(key|pem)$/.test(name))
  } catch {
    // Nothing was signed here yet.
  }
  return names.toSorted().flatMap((name) => {
    const file = join(folder, name)
    const found = readKeyText(readable(file) ?? '')
    return found === null ? [] : [{ ...found, file, own: name.endsWith('.key') }]
  })
}

function readable(file: string): string | null {
  try {
    return readFileSync(file, 'utf8')
  } catch {
    return null
  }
}
