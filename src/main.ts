#!/usr/bin/env node
// Chooses a Node that can run the program, this one or the one installed beside it, and hands the arguments on.
// It must load on any Node from 18 on, and quickly: nothing is loaded before it is known which of the two follows.
export {}

/** Whether this Node can run the program: from 22.13 on it has SQLite without a flag. */
function thisNodeFits(): boolean {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number)
  return major > 22 || (major === 22 && minor >= 13)
}

// A program that ends without having said how has a fault (status 70): never taken for a pass.
process.exitCode = 70
if (thisNodeFits())
  import('./start-program.ts').then(async ({ startProgram }) => {
    process.exitCode = await startProgram(process.argv.slice(2))
  })
else import('./relaunch.ts').then(({ relaunch }) => relaunch())
