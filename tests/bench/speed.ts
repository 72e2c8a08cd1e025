// `npm run bench:speed`: damaged lines, strokes, a whole recording, ever longer ones and many files, each held against its bar; status 1 where one is missed.
import { damageIsCheckedInTime } from './speed-damage.ts'
import { filesUseAllCores } from './speed-files.ts'
import { foldKeepsPace } from './speed-fold.ts'
import { longRunsAreLinear } from './speed-long.ts'
import { strokesAreKept } from './speed-strokes.ts'

const met = [
  await damageIsCheckedInTime(),
  await strokesAreKept(),
  await foldKeepsPace(),
  longRunsAreLinear(),
  filesUseAllCores(),
]
process.exitCode = met.every(Boolean) ? 0 : 1
