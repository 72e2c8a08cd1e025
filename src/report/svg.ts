// Numbers and texts into SVG pieces: elements with escaped attributes, and paths that break where nothing was measured.

type Attributes = Record<string, string | number>

/** One element. `content` is markup already: made by this file's functions. */
export function element(name: string, attributes: Attributes, content = ''): string {
  const list = Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? short(value) : escapeXml(value)}"`)
    .join('')
  return content === '' ? `<${name}${list}/>` : `<${name}${list}>${content}</${name}>`
}

/** An element that holds text. */
export function textElement(name: string, attributes: Attributes, text: string): string {
  return element(name, attributes, escapeXml(text) || ' ')
}

/** Text for XML 1.0: markup escaped, characters that XML cannot hold left out. */
export function escapeXml(text: string): string {
  const entities: Record<string, string> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' }
  return (
    text
      .toWellFormed()
      // biome-ignore lint/suspicious/noControlCharactersInRegex: XML 1.0, section 2.2, forbids these characters
      .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffe\uffff]/g, '')
      .replace(/[&<>"]/g, (char) => entities[char] ?? char)
  )
}

/** Path data through the points, in px; null starts a new piece. Empty where there is no point. */
export function pathData(points: readonly ({ x: number; y: number } | null)[]): string {
  let pen = 'M'
  let data = ''
  for (const point of points) {
    if (point) data += `${pen}${short(point.x)},${short(point.y)}`
    pen = point ? 'L' : 'M'
  }
  return data
}

/** A hundredth of a px is finer than any screen or printer shows. */
function short(value: number): string {
  return String(Math.round(value * 100) / 100)
}
