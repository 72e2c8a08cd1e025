// Lines of text, or a Problem, onto a page of the terminal until it is read.
import { Problem } from '../errors.ts'
import type { Host } from '../terminal/screens/host.tsx'
import { createTextPage } from '../terminal/screens/text-page.ts'

/** Shows `texts`, as a table where their spaces matter; false where the whole program is to be left. */
export async function showPage(host: Host, title: string, texts: readonly string[], table = false): Promise<boolean> {
  const page = createTextPage(title, texts, { table })
  return (await host.show<{ from: number }, 'back', true>(page, { from: 0 }, (_, hands) => hands.leave(true))) ?? false
}

/** What `action` gives; a Problem it throws is shown as a page instead, and `undefined` given. Anything else comes out unchanged. */
export async function showProblem<T>(host: Host, action: () => Promise<T>): Promise<T | undefined> {
  try {
    return await action()
  } catch (error) {
    if (!(error instanceof Problem)) throw error
    await showPage(host, 'That did not work', [error.message, '', error.next])
    return undefined
  }
}
