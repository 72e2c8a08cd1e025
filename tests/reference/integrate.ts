// A function and two ends into its integral, to hold closed formulas against.

/** Simpson's rule over `from` … `to` in 4 000 steps. */
export function integrate(f: (x: number) => number, from: number, to: number): number {
  const steps = 4000
  const h = (to - from) / steps
  let sum = f(from) + f(to)
  for (let i = 1; i < steps; i++) sum += f(from + i * h) * (i % 2 === 1 ? 4 : 2)
  return (sum * h) / 3
}
