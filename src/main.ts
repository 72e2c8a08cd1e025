#!/usr/bin/env node
// Chooses a Node that can run the program, this one or the one installed beside it, and hands the arguments on.
// It must load on any Node from 18 on, and quickly: nothing is loaded before it is known which of the two follows.
export {}

/** Whether this Node can run the program: from 22.13 on it has SQLite without a flag. */
function thisNodeFits(): boolean {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number)
  return major > 22 || (major === 22 && minor >= 13)
}

/**
 * Whether only words are asked for, help or version alone: an older Node prints them too and spares the start of another.
 * Asked in the middle of a line it may be the value of an option, so that is not looked at.
 */
function asksForWords(args: readonly string[]): boolean {
  const [last = '', command = ''] = args.toReversed?.() ?? []
  const words = ['-h', '--help', '-V', '--version'].includes(last)
  return words && args.length <= 2 && !command.startsWith('-') && typeof process.getBuiltinModule === 'function'
}

const args = process.argv.slice(2)
// A program that ends without having said how has a fault (status 70): never taken for a pass.
process.exitCode = 70
if (thisNodeFits() || asksForWords(args))
  import('./start-program.ts').then(async ({ startProgram }) => {
    process.exitCode = await startProgram(args)
  })
else import('./relaunch.ts').then(({ relaunch }) => relaunch())
