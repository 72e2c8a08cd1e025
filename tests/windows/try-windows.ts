// `npm run try:windows [-- PATTERN]`: the built program under Wine with the Windows build of Node, case by case, or those whose names match; status 1 where one fails.
import { fetchNodes, tryWindows, whyNot } from './wine.ts'

const reason = whyNot()
if (reason?.startsWith('Node')) fetchNodes()
else if (reason !== null) throw new Error(reason)
const { status, said, leftRunning } = await tryWindows(process.argv[2])
console.log(said)
for (const command of leftRunning) console.log(`Still running: ${command.replaceAll('\0', ' ')}`)
process.exitCode = status === 0 && leftRunning.length === 0 ? 0 : 1
