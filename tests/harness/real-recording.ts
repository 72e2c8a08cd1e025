// A simulated recording into the same as if it came from a real bench: sealed again, and signed where a key is given.
import { createHash, type KeyObject } from 'node:crypto'
import { readFileSync, writeFileSync } from 'node:fs'
import { encodeLine } from '../../src/recording/format.ts'
import { createSigner } from '../../src/recording/seal-signature.ts'

/** `start`: fields of the first line that are otherwise. */
export function realRecording(from: string, to: string, start: object = {}, privateKey: KeyObject | null = null): void {
  const lines = readFileSync(from, 'utf8').trimEnd().split('\n')
  const first = { ...JSON.parse(lines[0]!.slice(9)), simulated: false, ...start }
  const kept = lines.slice(1).filter((line) => !line.includes('{"type":"seal"'))
  const body = Buffer.concat([encodeLine(first), ...kept.map((line) => Buffer.from(`${line}\n`))])
  const seal = { lines: kept.length + 1, sha256: createHash('sha256').update(body).digest('hex') }
  const { t } = JSON.parse(kept.at(-1)!.slice(9))
  const signer = privateKey && createSigner(privateKey)
  const signed = signer && { key: signer.key, sig: signer.sign(seal) }
  writeFileSync(to, Buffer.concat([body, encodeLine({ type: 'seal', t, ...seal, ...signed })]))
}
