// A run into the instruments that are not heard now: unplugged, or silent for longer than they should be.
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import type { PortName } from '../model/rig.ts'
import { toArray } from '../model/series.ts'
import { fellSilent } from './fell-silent.ts'

export type AbsentPort = { name: PortName; lost: boolean }

/** The instruments that were heard before and are not now; none before the first reading and after the end. The test goes on without a second manometer. */
export function absentPorts(run: Run): AbsentPort[] {
  if (run.end !== null) return []
  return run.ports.flatMap(({ name, link, recentUs }): AbsentPort[] => {
    if (name === 'manometer-2') return []
    const heardUs = recentUs.at(-1)
    if (link === 'lost') return [{ name, lost: true }]
    return heardUs !== undefined && run.tUs - heardUs > criteria.silentUs ? [{ name, lost: false }] : []
  })
}

/** The instruments whose link was lost at some time of the run, each once. */
export const lostPorts = ({ linkBreaks }: Run): PortName[] => [...new Set(toArray(linkBreaks).map(({ port }) => port))]

/** What is the matter with them and what to do, in a sentence or two that names the others too; `goesOn`: the step that waits. */
export function absentText(absent: readonly AbsentPort[], run: Run, goesOn: string): string {
  const names = absent.map(({ name }) => name).join(' and the ')
  const [are, their, it, s] = absent.length > 1 ? ['are', 'their', 'they', ''] : ['is', 'its', 'it', 's']
  const lost = absent.some((port) => port.lost)
  const there = run.ports.filter(({ name }) => name !== 'manometer-2' && absent.every((port) => port.name !== name))
  const others = there.length > 0 ? `, the ${there.map(({ name }) => name).join(' and the ')} is there` : ''
  const look = lost ? `check ${their} cable${s === '' ? 's' : ''}` : `check that ${it} ${are} on and send${s}`
  const off = fellSilent(run).filter(({ name }) => absent.some((port) => port.name === name))
  const saving = off.map(
    ({ name, afterS }) => ` The ${name} was on for ${Math.round(afterS / 60)} min: if it saves power, switch that off.`,
  )
  return `The ${names} ${are} ${lost ? 'lost' : 'silent'}${others}. Vent and ${look}.${saving.join('')} Then go on with ${goesOn}.`
}
