// A text of a drawing into the characters that a PDF's own fonts have, and its width.

/** What Windows code page 1252 has where Latin-1 has none, and what replaces signs that it lacks. */
const others: Record<string, string> = {
  ...{ '…': '\x85', '‘': '\x91', '’': '\x92', '“': '\x93', '”': '\x94', '•': '\x95', '–': '\x96', '—': '\x97' },
  ...{ '−': '-', Ω: 'ohm', '≤': '<=', '≥': '>=', '∞': 'open', µ: '\xb5', μ: '\xb5' },
}
const entities: Record<string, string> = { '&amp;': '&', '&lt;': '<', '&gt;': '>', '&quot;': '"' }

/** `markup` as one byte a character; what no font has is `?`. */
export function pdfText(markup: string): string {
  const text = markup.replaceAll(/&\w+;/g, (entity) => entities[entity] ?? entity)
  return [...text].map((char) => others[char] ?? (char >= ' ' && char <= '\xff' ? char : '?')).join('')
}

// Widths of Helvetica from the space to ~, thousandths of its size; from memory, checked against the shape of the plots.
const widths = [
  278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
  556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833,
  722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556,
  556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334,
  260, 334, 584,
]
const usualWidth = 556

/** How wide `text` is, as a share of the size of its font. */
export function textWidth(text: string): number {
  return [...text].reduce((sum, char) => sum + (widths[char.charCodeAt(0) - 32] ?? usualWidth), 0) / 1000
}
