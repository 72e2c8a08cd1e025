// The text of a user's own driver, good or bad: lines such as `12 Pa`, and what is given in place of its parts.

export const goodDecode = `(memory, chunk) => {
  const readings = []
  const faults = []
  // Before the first line end nothing is known to be whole.
  let { line, whole, long } = memory ?? { line: '', whole: false, long: false }
  for (const char of chunk) {
    if (char === '\\n') {
      const found = /^(-?\\d{1,5}) Pa$/.exec(line)
      const frameBytes = line.length + 1
      if (whole && !long && found)
        readings.push({ quantity: 'pressure', value: Number(found[1]), unit: 'Pa', digit: 1, frameBytes })
      else if (whole && !long) faults.push({ code: 'unreadable', text: 'no number and unit' })
      line = ''
      whole = true
      long = false
    } else if (line.length < 60) line += char
    else if (!long) {
      long = true
      faults.push({ code: 'overlong', text: 'no line end in 60 bytes' })
    }
  }
  return { readings, faults, memory: { line, whole, long } }
}`

/** A driver that keeps to the contract; `top` comes before it in the file. */
export const ownDriver = (id: string, { decode = goodDecode, top = '', poll = 'null' } = {}) => `${top}
export const driver = {
  id: '${id}', title: 'A line of my own',
  serial: { baudRate: 1200, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {}, channels: [{ name: 'pressure', quantity: 'pressure', unit: 'Pa' }],
  wire: () => ({ framing: { kind: 'lines', end: 'lf' }, start: null, poll: ${poll}, maxFrameBytes: 60 }),
  decode: ${decode},
}
`

/** A decode that does `what` at the first byte, again and again. */
export const doing = (what: string) => `(memory, chunk) => {
  const kept = []
  while (chunk !== '') { ${what} }
  return { readings: [], faults: [], memory: null }
}`

/** Never goes on, and takes nothing of a processor meanwhile. */
export const waiting = 'Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0)'
