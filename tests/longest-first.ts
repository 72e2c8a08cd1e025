// Test files into the order they run in: those that follow real time first, so that no core is left waiting for one at the end.
import { BaseSequencer, type TestSpecification } from 'vitest/node'
import { rankOf } from './waiting-files.ts'

/** The rest as vitest sorts it: files that took long before, else large ones. */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return (await super.sort(files)).sort((a, b) => rankOf(a.moduleId) - rankOf(b.moduleId))
  }
}
