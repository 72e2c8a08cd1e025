// A count of cycles into the name of the scatter of single trips over them.

/** Fewer give no repeatability: s of n values is known to 1/√(2(n − 1)), normal approximation: 35 % at 5, 24 % at 10; that 10 are enough is a shop rule. */
const fewest = 10

/** What the standard deviation of single trips over `n` cycles is called: `repeatability`, or `scatter (s)` where they are few. */
export const scatterName = (n: number): string => (n >= fewest ? 'repeatability' : 'scatter (s)')
