// Signs that the font of a bare console does not have into ones that it has: code page 437, which such fonts go back to.

/** Each of one cell, as the sign that it replaces. */
const plainer: Record<string, string> = {
  '✓': '√',
  '✗': 'x',
  '●': '•',
  '▶': '►',
  '‖': '║',
  '╌': '-',
  '━': '═',
  '┅': '·',
  '┃': '║',
  '▁': '_',
  '╭': '┌',
  '╮': '┐',
  '╰': '└',
  '╯': '┘',
  '–': '-',
  '−': '-',
  '…': '~',
  '×': 'x',
  '⌫': '←',
  '’': "'",
  '‹': '<',
  '›': '>',
}
const any = new RegExp(`[${Object.keys(plainer).join('')}]`, 'g')

/** Whether this process's terminal is a bare console, by its name: its font has no braille either. */
export const isBareConsole = (): boolean => process.env['TERM'] === 'linux'

/** `text` in signs of code page 437, cell for cell; letters of other scripts stay as they are. */
export const consoleText = (text: string): string => text.replace(any, (sign) => plainer[sign]!)
