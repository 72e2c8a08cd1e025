// Outliers and trends: Grubbs, Mann-Kendall, Theil-Sen. Each entry: what goes in, what is printed, how closely the print can be met, where it stands.
// `recomputed` = the same quantity worked out independently to more digits; `fromMemory` = not read in the document itself.

export const robust = {
  'grubbs-nist': {
    inputs: { y: [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57], alpha: 0.05 },
    expected: { G: 2.4687, critical_one_sided: 2.032, critical_two_sided: 2.1266, outlier: 245.57 },
    tolerance: { G: 0.00011, critical: 0.00051 },
    recomputed: { G: 2.46876461121245, one_sided: 2.031652001549949, two_sided: 2.1266450871954667 },
    source:
      'NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.5.17.1 (Tietjen and Moore 1972 uranium data), as quoted in public test files; two-sided value in another',
    note: 'the handbook truncates G; rounding gives 2.4688',
  },
  'grubbs-table-5': {
    inputs: { n: [3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20], alpha: 0.05, sided: 1 },
    expected: {
      critical: [
        1.1531, 1.4625, 1.6714, 1.8221, 1.9381, 2.0317, 2.1096, 2.1761, 2.2339, 2.285, 2.3305, 2.3717, 2.409, 2.4433,
        2.4748, 2.504, 2.5312, 2.5566,
      ],
    },
    tolerance: { abs: 0.00006 },
    source: 'Grubbs and Beck 1972 type table, read in a public source file; formula e-Handbook 1.3.5.17.1',
  },
  'grubbs-table-5-two': {
    inputs: { n: [3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20], alpha: 0.05, sided: 2 },
    expected: {
      critical: [
        1.1543, 1.4813, 1.715, 1.8871, 2.02, 2.1266, 2.215, 2.29, 2.3547, 2.4116, 2.462, 2.5073, 2.5483, 2.5857, 2.62,
        2.6516, 2.6809, 2.7082,
      ],
    },
    tolerance: { abs: 0.000051 },
    source: 'formula of e-Handbook 1.3.5.17.1, evaluated here',
    ownEvaluation: true,
  },
  'kendall-epa-17-6': {
    inputs: {
      t_y: [
        [89.6, 480],
        [89.8, 450],
        [90.1, 490],
        [90.3, 520],
        [90.6, 485],
        [90.8, 510],
        [91.1, 510],
        [91.3, 530],
        [91.6, 510],
        [91.8, 560],
        [92.1, 560],
        [92.6, 540],
        [93.1, 590],
        [93.6, 550],
        [94.1, 600],
        [94.6, 700],
        [95.1, 570],
        [95.6, 610],
        [95.8, 650],
        [96.1, 620],
        [96.3, 830],
        [96.6, 720],
        [96.8, 590],
      ],
    },
    expected: {
      tau: 0.7667984,
      theil_sen_slope: 26.6666667,
      intercept_median: -1909.3333333,
      z: 5.107322,
      p_two_sided: 3.267574e-7,
      slope_ci95: [20, 35.71182],
    },
    tolerance: { tau: 1e-7, slope: 1e-7, intercept: 0.000001, z: 0.000001, p: 1e-12, ci: 0.00001 },
    recomputed: { S: 194, var_S: 1428, pairs: 253 },
    source:
      'USEPA Unified Guidance (EPA 530/R-09-007, 2009) Example 17-6 p. 17-33; data and output in GitHub cran/EnvStats at commit 1dc7646178cabecf1bbc818084d34196b2b7fdad, data/EPA.09.Ex.17.6.sulfate.df.rda and man/kendallTrendTest.Rd',
    note: 'tie groups 510 (3), 560 (2), 590 (2); interval by Gilbert with linear interpolation at ranks 89.4676 and 164.5324',
  },
  'mann-kendall-ties': {
    inputs: { y: [12.9, 14.8, 13.2, 15.7, 13.8, 15.6, 12.9, 11, 17.3, 15.9, 19, 18.3, 20.1, 21.7] },
    expected: { S: 54, plus: 72, minus: 18, ties: 1, var_S: 332.6666667, z: 2.9058 },
    tolerance: { z: 0.000051, var_S: 0.000001 },
    recomputed: { z: 2.905836845996537 },
    source: 'hand-worked example at mathcs.holycross.edu/~little/Montserrat/MannKendallByHand.txt',
  },
  'mann-kendall-small': {
    inputs: { y: [10, 15, 14, 20] },
    expected: { S: 4, p_one_sided_exact: 0.167 },
    tolerance: { abs: 0.00051 },
    recomputed: { p: 0.16666666666666666 },
    source: 'Gilbert, Statistical Methods for Environmental Pollution Monitoring (1987), section 16.4 and Table A18',
    fromMemory: true,
    note: 'exact by enumeration: 4 of 24 orders have S >= 4',
  },
  'theil-sen-helsel': {
    inputs: { x: [1, 2, 3, 4, 5, 6, 7], y: [1, 2, 3, 4, 5, 16, 7] },
    expected: { theil_sen_slope: 1, ols_slope: 1.71 },
    tolerance: { theil_sen_slope: 1e-12, ols_slope: 0.005 },
    recomputed: { ols_slope: 1.7142857142857142, ols_intercept: -1.4285714285714286, number_of_slopes: 21 },
    source: 'Helsel and Hirsch, Statistical Methods in Water Resources, chapter 10 (Theil-Sen line illustration)',
    fromMemory: true,
  },
}
