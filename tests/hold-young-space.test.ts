// The room for new objects of a process by itself: it swells while objects outlive their first collections, unless it is held.
import { execFileSync } from 'node:child_process'
import { expect, test } from 'vitest'

const module = new URL('../src/hold-young-space.ts', import.meta.url).href

/** Room for new objects after many that live on for a while, MB; `between` runs again and again meanwhile. */
function roomAfter(between: string): number {
  const program = `
    import { getHeapSpaceStatistics } from 'node:v8'
    import { freeYoungSpace, holdYoungSpace } from '${module}'
    let kept = []
    for (let i = 0; i < 1e7; i++) {
      const one = { i, of: [i] }
      if (i % 20 === 0) kept.push(one)
      if (kept.length > 100_000) kept = []
      if (i % 1000 === 0) { ${between} }
    }
    console.log(getHeapSpaceStatistics().find(({ space_name }) => space_name === 'new_space').space_size / 1e6)`
  const args = ['--no-warnings', '--input-type=module', '--eval', program]
  return Number(execFileSync(process.execPath, args, { encoding: 'utf8' }))
}

test('held at 16 MB, the room for new objects stays near that where it would swell to several times as much', () => {
  expect(roomAfter('')).toBeGreaterThan(60)
  expect(roomAfter('holdYoungSpace(16)')).toBeLessThan(40)
  expect(roomAfter('holdYoungSpace(16); if (i >= 5e6) freeYoungSpace()')).toBeGreaterThan(60)
})
