// A run whose first line is damaged, so that neither part nor rig is known, into the problem that says why.

import type { Run } from '../core/intake/run.ts'
import { countText } from '../core/text/lines-text.ts'
import { Problem } from '../errors.ts'

/** That every line of the recording is whole but for its end, as a sentence without its full stop; null where it is not so. */
export function changedLineEnds({ damage }: Pick<Run, 'damage'>): string | null {
  if (!damage.lineEndsOnly || damage.corrupt.count === 0) return null
  return `Another program has changed the line ends (CRLF) of all ${countText(damage.corrupt.count)} lines`
}

/** Why `run` has no setup; `file` is named where the caller does not. */
export function unknownSetup(run: Run, file = ''): Problem {
  const named = file && `${file}: `
  const changed = changedLineEnds(run)
  return changed === null
    ? new Problem('recording-damaged', `${named}Line 1 is damaged, so neither part nor rig is known.`)
    : new Problem('recording-line-ends', `${named}${changed}.`)
}
