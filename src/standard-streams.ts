// Standard output and error that Node cannot open into ones that are written as files are.
import { writeSync } from 'node:fs'
import { Writable } from 'node:stream'

/** Node throws where it first looks at such a stream: a pipe of the system around Wine, for one. */
export function openStandardStreams(): void {
  for (const [name, fd] of [
    ['stdout', 1],
    ['stderr', 2],
  ] as const)
    try {
      void process[name]
    } catch {
      Object.defineProperty(process, name, { value: writtenAsFile(fd) })
    }
}

function writtenAsFile(fd: number): Writable {
  return new Writable({
    decodeStrings: true,
    write(bytes: Buffer, _, done) {
      try {
        for (let from = 0; from < bytes.length; ) from += writeSync(fd, bytes, from)
        done()
      } catch (error) {
        done(error as Error)
      }
    },
  })
}
