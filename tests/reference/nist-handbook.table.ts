// NIST/SEMATECH e-Handbook and kindred tables: tolerance factors, check standard, bias of the standard deviation. Each entry: what goes in, what is printed, how closely the print can be met, where it stands.
// `recomputed` = the same quantity worked out independently to more digits; `fromMemory` = not read in the document itself.

export const nistHandbook = {
  'ehb-k2-howe': {
    inputs: { N: 43, p: 0.9, gamma: 0.99, z: -1.645, 'chi2_0.01_42': 23.65 },
    expected: { k2: 2.217 },
    tolerance: { abs: 0.0005 },
    recomputed: { k2: 2.2173158966536297, chi2: 23.65009467782, k2_exact: 2.22282517 },
    source:
      'NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.6.3 (prc263.htm); page text read in a public source file',
  },
  'ehb-k1-natrella': {
    inputs: { N: [43, 6], p: 0.9, gamma: 0.99 },
    expected: { a: 0.9356, b: 1.5165, k1: [1.8752, 5.2808] },
    tolerance: { abs: 0.000051 },
    recomputed: { a: 0.9355726845911, b: 1.5165164, k1: [1.87518958128, 5.28082735821] },
    source:
      'NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.6.3 (prc263.htm); page text read in a public source file',
    note: 'a and b are for N=43',
  },
  'ehb-k1-noncentral-t': {
    inputs: { N: [43, 6], p: 0.9, gamma: 0.99 },
    expected: { delta_43: 8.4037, t_43: 12.28834, k1: [1.874, 4.4111] },
    tolerance: { delta_43: 0.0005, t_43: 0.0005, k1: 0.000051 },
    recomputed: { k1: [1.87395360585, 4.411080572398] },
    source:
      'NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.6.3 (prc263.htm); page text read in a public source file',
    note: 'the N=6 pair 5.2808 against 4.4111 shows why the noncentral t is needed for small lots',
  },
  'ehb-tolerance-limits': {
    inputs: { N: 43, mean: 97.07, s: 0.0268, k2: 2.2173, k1: 1.8752 },
    expected: { two_sided: [97.0106, 97.1294], upper_one_sided: 97.1203 },
    tolerance: { abs: 0.000051 },
    source:
      'arithmetic on 7.2.6.3 factors; a public worksheet (scribd document 471866375) gives 97.010576, 97.12942 and 97.120255 and reports that the handbook page once carried the wrong limit 102.096',
    ownEvaluation: true,
  },
  'tol-k2-exact': {
    inputs: { n: [20, 35], coverage: [0.95, 0.9], confidence: [0.95, 0.9] },
    expected: { k2: [2.760346, 1.9906] },
    tolerance: { k2: [0.000001, 0.0001] },
    recomputed: { k2: [2.7603461786, 1.9905321375] },
    source:
      'n=20: GitHub cran/EnvStats at commit 1dc7646178cabecf1bbc818084d34196b2b7fdad, man/tolIntNormK.Rd; n=35: ISO 16269-6 Table F1 as quoted in a public test file',
    note: 'own quadrature gives 1.99053 for n=35, one unit below the fourth printed decimal',
  },
  'tol-k1': {
    inputs: { n: [20, 8], coverage: [0.99, 0.95], confidence: [0.9, 0.95] },
    expected: { k1: [3.051543, 3.187294] },
    tolerance: { abs: 0.000001 },
    source:
      'GitHub cran/EnvStats, man/tolIntNormK.Rd (commit above); n=8 is USEPA Unified Guidance (2009) Example 17-3',
  },
  'spc-c4': {
    inputs: { n: [2, 5, 10, 25] },
    expected: { c4: [0.7979, 0.94, 0.9727, 0.9896] },
    tolerance: { abs: 0.0001 },
    source:
      'NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2 for n=10, classical table otherwise; GitHub Xindaan/capstat, packages/capstat-core/tests/references/capability.yaml',
  },
  'ehb-check-standard': {
    inputs: {
      check_values_ohm_cm: [
        97.07, 97.049, 97.048, 97.084, 97.106, 97.014, 97.047, 97.078, 97.065, 97.061, 97.06, 97.102, 97.096, 97.035,
        97.114, 97.069, 97.095, 97.088, 97.079, 97.016, 97.051, 97.07, 97.065, 97.111, 97.073,
      ],
      short_term_s: [
        0.085, 0.052, 0.038, 0.036, 0.049, 0.036, 0.052, 0.117, 0.085, 0.052, 0.06, 0.048, 0.026, 0.088, 0.031, 0.037,
        0.032, 0.056, 0.067, 0.116, 0.046, 0.078, 0.04, 0.038, 0.039,
      ],
      dof_each: 5,
      alpha: 0.05,
    },
    expected: {
      mean: 97.06984,
      level2_s: 0.0267981,
      level1_pooled_s: 0.0613879,
      level1_dof: 125,
      t_limits: [97.01453, 97.12515],
      s_upper_limit: 0.092831,
    },
    tolerance: { abs: 0.00001 },
    recomputed: { 't_0.975_24': 2.0638985616280245, 'F_0.95_5_125': 2.286770719888274 },
    source:
      'NIST/SEMATECH e-Handbook of Statistical Methods, section 2.6.2 case study data (wafer 137, probe 2362); GitHub usnistgov/dataplot at commit 19a6caae6643bc7719a9f550595e75c2bc52d1af, lib/data/MPC62.DAT; statistics evaluated here, pages of 2.6.2.3 and 2.6.2.4 with the printed limits could not be read',
    ownEvaluation: true,
  },
}
