// Lines of text, or what went wrong, onto a page of the terminal until it is read.
import { asProblem } from '../errors.ts'
import type { Host } from '../terminal/screens/host.tsx'
import { createTextPage, type PageAsk, type PageState } from '../terminal/screens/text-page.ts'

export type PageOptions = Parameters<typeof createTextPage>[2]

/** Shows `texts` until they are read; how the page was left, null where the whole program is to be left. */
export function showPage(
  host: Host,
  title: string,
  texts: Parameters<typeof createTextPage>[1],
  options: PageOptions = {},
): Promise<PageAsk | null> {
  return host.show<PageState, PageAsk, PageAsk>(createTextPage(title, texts, options), { from: 0 }, (ask, hands) =>
    hands.leave(ask),
  )
}

/** What `action` gives; what it throws is shown as a page instead, and `undefined` given. */
export async function showProblem<T>(host: Host, action: () => Promise<T>): Promise<T | undefined> {
  try {
    return await action()
  } catch (error) {
    const { message, next } = asProblem(error)
    await showPage(host, 'That did not work', [message, '', next])
    return undefined
  }
}
