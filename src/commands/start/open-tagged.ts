// A tag that was scanned into what is known of its part, and into what is to be done with it.
import type { Part } from '../../core/model/part.ts'
import { escapeControls } from '../../core/text/escape-controls.ts'
import { recordedVerdict } from '../../terminal/text/recorded-text.ts'
import { userFolders } from '../../user-folders.ts'
import { titleOf } from '../describe-run.ts'
import type { Tagged } from '../find-tagged.ts'
import { listSetups } from '../list-setups.ts'
import { playRecording } from '../play-recording.ts'
import { readPart } from '../read-setup.ts'
import { type Desk, pickOne } from './desk.ts'

/** The serial number to go on with, empty for none, the part file that it is tested as, and what is said beside. */
export type TaggedPart = { part: string; serial: string; said: string | null }

/**
 * Shows the record of the tag until it is left or its part is to be tested again. `part`: the part file in use, kept where it
 * is of the same model.
 */
export async function openTagged(desk: Desk, tagged: Tagged, part: string): Promise<TaggedPart> {
  const { start } = tagged.glance
  const told = [titleOf(start), ...toldOf(tagged)]
  const again = await partFor(start.part, part)
  const serial = start.part.serial ?? ''
  const rows = [
    {
      value: 'test' as const,
      cells: ['Test it again', again === null ? '' : `as ${again}`],
      about: told,
      blocked:
        again === null ? `no part file of yours has the model ${start.part.model ?? 'that it was tested as'}` : null,
    },
    { value: 'play' as const, cells: ['Play its recording', ''], about: told },
    { value: 'back' as const, cells: ['Back to the serial number', ''], about: told },
  ]
  while (!desk.host.over()) {
    const chosen = await pickOne(desk, rows, `Tag ${tagged.number ?? 'without a number'}`)
    if (chosen === 'play') {
      await playRecording(desk.host, tagged.path, { speed: 10 })
      continue
    }
    if (chosen !== 'test' || again === null) break
    return { part: again, serial, said: escapeControls(`${told.slice(0, -1).join('. ')}.`) }
  }
  return { part, serial: '', said: null }
}

/** What was said of the part, when, and where that is kept. */
function toldOf({ glance, standing, later, path }: Tagged): string[] {
  const { start, verdict } = glance
  const when = start.at.slice(0, 10)
  return [
    `Recorded ${recordedVerdict(verdict, start.simulated)} on ${when}`,
    ...(standing === null ? [] : [`The tag says ${standing}: do not fit it`]),
    ...(later === null ? [] : [`This report gave way to ${later}: its verdict counts no more`]),
    `Recording: ${path}`,
  ]
}

/** The part file in use where it is of the model that was tested, else the first that is; null where none is. */
async function partFor({ model }: Part, inUse: string): Promise<string | null> {
  const { parts } = userFolders()
  for (const name of [inUse, ...(await listSetups(parts))]) {
    const part = await readPart(name, parts).catch(() => null)
    if (part !== null && (part.model ?? null) === (model ?? null)) return name
  }
  return null
}
