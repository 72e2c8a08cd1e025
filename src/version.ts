// The version that package.json states: from src/ one folder up, from dist/src/ two.
import { readFileSync } from 'node:fs'

/** Such as `0.1.0`. */
export function readVersion(): string {
  const above = import.meta.url.endsWith('.ts') ? '../package.json' : '../../package.json'
  return (JSON.parse(readFileSync(new URL(above, import.meta.url), 'utf8')) as { version: string }).version
}
