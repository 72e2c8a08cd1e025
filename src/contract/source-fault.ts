// The text of a driver into the first thing in it that reaches beyond its arguments.
import { codeOf } from './code-of.ts'

const beyond =
  /\b(Date|performance|Temporal|setTimeout|setInterval|setImmediate|queueMicrotask|await|async|Promise|console|process|globalThis|fetch|crypto|require|random)\b/
// As codeOf leaves it: the name in the quotes is gone.
const imports = /\b(?:from|import)\s*\(?\s*''/
const imported = /\b(?:from|import)\s*\(?\s*['"]([^'"]*)/

/** As `line 3 uses Date`; null where there is nothing. Comments and plain strings are passed over. */
export function sourceFault(source: string, mayImport: readonly string[]): string | null {
  const lines = source.split('\n')
  for (const [index, code] of codeOf(source).split('\n').entries()) {
    const used = beyond.exec(code)?.[0]
    if (used !== undefined) return `line ${index + 1} uses ${used}`
    if (!imports.test(code)) continue
    const from = imported.exec(lines[index] ?? '')?.[1] ?? ''
    if (!mayImport.some((start) => from.startsWith(start)))
      return `line ${index + 1} imports "${from}"; it may import ${mayImport.join(', ') || 'nothing'}`
  }
  return null
}
