// The drivers that recorded a test, beside those of today, into a sentence for each that is another.
import type { StartEvent } from '../core/model/event.ts'
import type { Driver } from '../driver.ts'
import { digestOf } from '../load-drivers.ts'
import { cleanText } from '../terminal/text/text.ts'

/** Characters of a digest that are shown: enough to tell two files apart. */
const shownChars = 8

/** Notes beside the verdict, which they do not change; none where nothing was recorded of the drivers. */
export function changedDrivers({ drivers: then }: StartEvent, now: ReadonlyMap<string, Driver>): string[] {
  return Object.entries(then ?? {}).flatMap(([id, sha256]) => {
    const driver = now.get(id)
    const today = driver ? digestOf(driver) : null
    if (today === sha256) return []
    const what =
      driver === undefined
        ? 'it is gone'
        : today === null
          ? "makebreak's own is used now"
          : 'its file has changed since'
    const digests = `sha256 ${shown(sha256)} then${today === null ? '' : `, ${shown(today)} now`}`
    return [`The driver "${cleanText(id)}" is not the one that recorded this: ${what} (${digests}).`]
  })
}

const shown = (sha256: string) => `${cleanText(sha256).slice(0, shownChars)}…`
