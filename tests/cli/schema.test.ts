// `schema` as an editor takes it: what is printed is a JSON Schema that an independent checker takes, and the examples of the help are good by it.
import { Ajv2020 } from 'ajv/dist/2020.js'
import { expect, test } from 'vitest'
import { fieldsOf } from '../../src/core/model/fields.ts'
import { partFileSchema } from '../../src/core/model/part.ts'
import { rigFileSchema } from '../../src/core/model/rig.ts'
import { runCommand } from '../harness/run-command.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const ajv = new Ajv2020({ strict: true, allowUnionTypes: true, strictRequired: false, validateFormats: false })

async function printed(kind: string) {
  const { status, out, err } = await runCommand(folder, ['schema', kind])
  expect({ status, err }).toEqual({ status: 0, err: '' })
  return ajv.compile(JSON.parse(out))
}

test('the examples of `run --help` are good by the schemas that are printed', async () => {
  const { out } = await runCommand(folder, ['run', '--help'])
  const [part, rig] = [...out.matchAll(/^ {2}\{\n[\s\S]*?^ {2}\}$/gm)].map(([json]) => JSON.parse(json))
  const [checkPart, checkRig] = [await printed('part'), await printed('rig')]
  expect([checkPart(part), checkPart.errors]).toEqual([true, null])
  expect([checkRig(rig), checkRig.errors]).toEqual([true, null])
  expect([checkPart(rig), checkRig(part)]).toEqual([false, false])
})

test('its help lists every field of both files, with what it is in', async () => {
  const { out } = await runCommand(folder, ['schema', '--help'])
  const leaves = [...fieldsOf(partFileSchema), ...fieldsOf(rigFileSchema)].filter(
    ({ kind, isUnit, path }) =>
      kind !== 'object' && kind !== 'list' && !isUnit && !/^(bridge|manometer-2)\./.test(path),
  )
  const told = out.split('\n').filter((line) => /^ {2}[a-z]\S*(,|$)/i.test(line))
  for (const { path } of leaves)
    expect(told.some((line) => line === `  ${path}` || line.startsWith(`  ${path}, `))).toBe(true)
  expect(out).toContain('manometer-2: one more at the switch end')
  expect(out).toContain('  lag.uS, s\n      lag u: Its standard uncertainty.')
  expect(out).toContain('  manometer.port.dataBits, 7 or 8\n')
})

test.each([[[]], [['bench']]])('anything but part or rig is refused: %j', async (args) => {
  const { status, err } = await runCommand(folder, ['schema', ...args])
  expect(status).toBe(64)
  expect(err).toMatch(/kind/)
})
