// Date, serial number and id of a test into the name of its recording: a plain name that never leaves its folder.

const maxSerialChars = 40
// Device names that Windows reserves whatever follows the first dot, by its "Naming Files, Paths, and Namespaces".
const reserved = /^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])$/i

/**
 * `20270314-091500Z-A1047-3f9c1a.run`: UTC, so that names sort by time; then the serial, letters, digits, `_` and `-`
 * only and at most 40 of them (left out where nothing is left of it); then the last six digits of `id`, which keep
 * two tests of one second apart.
 */
export function recordingName(at: Date, serial: string | null, id: string): string {
  const [day = '', time = ''] = at.toISOString().split('T')
  const stamp = `${day.replaceAll('-', '')}-${time.slice(0, 8).replaceAll(':', '')}Z`
  const kept = plainName(serial ?? '')
  return `${[stamp, kept, plainName(id).slice(-6)].filter((piece) => piece !== '').join('-')}.run`
}

/** What is safe of `text` in a file's name on every system, at most so many characters; empty where nothing is. */
export function plainName(text: string, mostChars = maxSerialChars): string {
  const plain = text
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9_-]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, mostChars)
  return reserved.test(plain) ? `_${plain}` : plain
}
