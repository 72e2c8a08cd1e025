// A source file into the sentences that it may show or print: its texts of two words and more, with `…` for what is put in.
import { parseSync } from 'rolldown/utils'

export type Sentence = { line: number; text: string }

/** Nodes as the parser gives them: what is read of them here. */
type Node = { type: string; start: number; value?: unknown; quasis?: Node[]; [child: string]: unknown }

/** More than one word, and small letters. */
const isSentence = (text: string) => /\S +\S/.test(text) && /\p{Ll}{2}/u.test(text)

/** The sentences of the source `text` of the file `path`, in their order; `comments`: those of its comments in their place. */
export function readSentences(path: string, text: string, comments = false): Sentence[] {
  const { program, comments: remarks, errors } = parseSync(path, text)
  if (errors.length > 0) throw new Error(`${path}: ${errors[0]?.message}`)
  const found: { start: number; text: string }[] = []
  if (comments)
    for (const { start, value } of remarks) found.push({ start, text: value.replaceAll(/\n\s*\* ?/g, '\n') })
  else visit(program as unknown as Node, (start, said) => found.push({ start, text: said }))
  return found
    .map(({ start, text: said }) => ({ line: text.slice(0, start).split('\n').length, text: said.trim() }))
    .filter(({ text: said }) => isSentence(said))
}

function visit(node: Node, onText: (start: number, text: string) => void): void {
  // The names of modules and types are none; a value that is told its type is one.
  if (/^(Import|ExportAll|TS(?!AsExpression|SatisfiesExpression|NonNullExpression))/.test(node.type)) return
  if (node.type === 'TemplateLiteral') {
    const pieces = (node.quasis ?? []).map(({ value }) => (value as { cooked: string }).cooked)
    onText(node.start, pieces.join('…'))
  } else if ((node.type === 'Literal' || node.type === 'JSXText') && typeof node.value === 'string')
    onText(node.start, node.value)
  for (const child of Object.values(node).flat())
    if (child !== null && typeof child === 'object' && 'type' in child) visit(child as Node, onText)
}
