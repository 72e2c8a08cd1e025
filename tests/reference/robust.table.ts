// Lines against wild values. Each entry: what goes in, what is printed, how closely the print can be met, where it stands.
// `recomputed` = the same quantity worked out independently to more digits; `fromMemory` = not read in the document itself.

export const robust = {
  'wild-value-helsel': {
    inputs: { x: [1, 2, 3, 4, 5, 6, 7], y: [1, 2, 3, 4, 5, 16, 7] },
    expected: { ols_slope: 1.71 },
    tolerance: { ols_slope: 0.005 },
    recomputed: { ols_slope: 1.7142857142857142, ols_intercept: -1.4285714285714286 },
    source:
      'Helsel and Hirsch, Statistical Methods in Water Resources, chapter 10 (illustration of a line against one wild value)',
    fromMemory: true,
  },
}
