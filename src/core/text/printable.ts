// Any text into one that is safe to show on a terminal: printable ASCII only, of bounded length.

/** `text` with each other character as a dot, cut with `...` to at most `maxLength` characters; empty stays empty. */
export function printable(text: string, maxLength = 80): string {
  const safe = text.slice(0, maxLength + 1).replace(/[^ -~]/g, '.')
  return safe.length > maxLength ? `${safe.slice(0, maxLength - 3)}...` : safe
}
