// A text and the fonts it is written in into the text that they can show: what they lack becomes a code.

/** `text` with each character that no font has as a code, such as `[U+65E5]`; `onLack` hears of each. */
export function glyphText(
  text: string,
  hasGlyph: (code: number) => boolean,
  onLack: (name: string) => void = () => {},
): string {
  return [...text]
    .map((char) => {
      const code = char.codePointAt(0)!
      if (hasGlyph(code)) return char
      const name = `U+${code.toString(16).toUpperCase().padStart(4, '0')}`
      onLack(name)
      return `[${name}]`
    })
    .join('')
}
