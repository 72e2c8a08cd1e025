// The recording process with the key of a bench: it signs what a real bench sends, and the key is in nothing but its memory.
import { generateKeyPairSync } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { createReader } from '../../src/recording/read.ts'
import { isSignedBy } from '../../src/recording/seal-signature.ts'
import { simulatedPath } from '../../src/simulation/wire.ts'
import { type AcquisitionPlan, acquire } from '../../src/source/acquire.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { planOf, portPlan } from './bench.ts'

const folder = temporaryFolder()
const { privateKey, publicKey } = generateKeyPairSync('ed25519')
const der = privateKey.export({ type: 'pkcs8', format: 'der' })
const signing = { privateKey: der.toString('base64'), chain: join(folder, 'chain') }

/** Records `plan` to its end; `look` is called once the file has begun. */
async function record(plan: AcquisitionPlan, look: (pid: number) => void = () => {}) {
  const begun = Promise.withResolvers<void>()
  const acquiring = acquire(plan, { grew: begun.resolve, ended: begun.resolve }, signing)
  await begun.promise
  look(acquiring.pid!)
  acquiring.finish('finished')
  acquiring.sendVerdict({ verdict: 'undecided' })
  expect(await acquiring.exited).toBeNull()
  const reader = createReader()
  const events = [...reader.push(readFileSync(plan.file)), ...reader.finish()]
  return { events, digests: reader.digests() }
}

test('recordings of a real bench are signed and chained, whatever is not', async () => {
  const [a, b] = [planOf(join(folder, 'a.run'), []), planOf(join(folder, 'b.run'), [])]
  const first = await record(a)
  const second = await record(b)
  for (const { events, digests } of [first, second]) {
    expect(events.at(-1)).toMatchObject({ type: 'seal', matches: true })
    expect(isSignedBy(publicKey, digests.seal!.signed!)).toBe(true)
  }
  expect(first.events[0]).not.toHaveProperty('previous')
  expect(second.events[0]).toHaveProperty('previous', first.digests.seal!.digest)
})

test('what a simulated bench sends is neither signed nor chained, even where its first line says otherwise', async () => {
  const said = { ...planOf(join(folder, 'said.run'), []), start: { ...planOf('', []).start, simulated: true } }
  const unsaid = planOf(join(folder, 'unsaid.run'), [portPlan('manometer', simulatedPath('good', 3, 20))])
  for (const plan of [said, unsaid]) {
    const { events, digests } = await record(plan)
    expect(events[0]).not.toHaveProperty('previous')
    expect(digests.seal).toMatchObject({ signed: null })
  }
})

test('the private key is in no argument, no environment and no recording', async () => {
  const own = der.subarray(-32)
  const spellings = [own.toString('base64').slice(0, 40), own.toString('hex'), signing.privateKey.slice(-40)]
  const plan = planOf(join(folder, 'secret.run'), [])
  const seen: string[] = []
  await record(plan, (pid) => {
    for (const name of ['cmdline', 'environ'])
      if (existsSync(`/proc/${pid}/${name}`)) seen.push(readFileSync(`/proc/${pid}/${name}`, 'latin1'))
  })
  seen.push(readFileSync(plan.file, 'latin1'))
  seen.push(...readdirSync(signing.chain).map((name) => readFileSync(join(signing.chain, name), 'latin1')))
  expect(seen.length).toBeGreaterThanOrEqual(existsSync('/proc/self/environ') ? 4 : 2)
  for (const text of seen) for (const spelling of spellings) expect(text.includes(spelling)).toBe(false)
})
