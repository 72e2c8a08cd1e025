// JCGM 106:2012 and ILAC-G8:09/2019: conformance probability, guard bands, risks. Each entry: what goes in, what is printed, how closely the print can be met, where it stands.
// `recomputed` = the same quantity worked out independently to more digits; `fromMemory` = not read in the document itself.

export const conformity = {
  'j106-table1': {
    inputs: { pc: [0.8, 0.9, 0.95, 0.99, 0.999] },
    expected: { z: [0.84, 1.28, 1.64, 2.33, 3.09] },
    tolerance: { abs: 0.0051 },
    recomputed: { z: [0.84162, 1.28155, 1.64485, 2.32635, 3.09023] },
    source:
      'JCGM 106:2012, Table 1; text sources/jcgm/106-2012-en and official PDF reference-docs/JCGM_106_2012_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'j106-upper': {
    inputs: { y: -5.47, u: 0.05, TU: -5.4 },
    expected: { z: 1.4, pc: 0.92 },
    tolerance: { abs: 0.005 },
    recomputed: { pc: 0.9192433407662289 },
    source:
      'JCGM 106:2012, 7.3.3 example 1; text sources/jcgm/106-2012-en and official PDF reference-docs/JCGM_106_2012_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'j106-lower': {
    inputs: { y: 509.7, u: 8.6, TL: 490 },
    expected: { z: 2.3, pc: 0.99 },
    tolerance: { z: 0.05, pc: 0.005 },
    recomputed: { pc: 0.9890095473848223 },
    source:
      'JCGM 106:2012, 7.3.3 example 2; text sources/jcgm/106-2012-en and official PDF reference-docs/JCGM_106_2012_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'j106-two-sided': {
    inputs: { y: 13.6, u: 1.8, TL: 12.5, TU: 16.3 },
    expected: { pc: 0.66 },
    tolerance: { abs: 0.005 },
    recomputed: { pc: 0.6626297864953078, pc_from_rounded_z: 0.6589396809810684 },
    source:
      'JCGM 106:2012, 7.4 example; text sources/jcgm/106-2012-en and official PDF reference-docs/JCGM_106_2012_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'j106-Cm1-zone': {
    inputs: { Cm: 1, pc_min: 0.95, formula: 'pc = Phi(4Cm(1-y)) - Phi(-4Cm y)' },
    expected: { y_low: 0.45, y_high: 0.55 },
    tolerance: { abs: 0.005 },
    recomputed: { y_low: 0.44905318, pc_at_centre: 0.9544997361 },
    source:
      'JCGM 106:2012, 7.7.5 and eq. 14; text sources/jcgm/106-2012-en and official PDF reference-docs/JCGM_106_2012_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'j106-guard-w-U': {
    inputs: { w: 'U = 2u' },
    expected: { max_specific_consumer_risk: 0.023 },
    tolerance: { abs: 0.0005 },
    recomputed: { risk: 0.022750131948179195 },
    source:
      'JCGM 106:2012, 8.3.2.3 example (ISO 14253-1 default rule); text sources/jcgm/106-2012-en and official PDF reference-docs/JCGM_106_2012_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'j106-speed': {
    inputs: { v0: 100, relative_u: 0.02, p: 0.999, z: 3.09 },
    expected: { v_max: 107 },
    tolerance: { abs: 0.5 },
    recomputed: { v_max: 106.58708164570454 },
    source:
      'JCGM 106:2012, 8.3.3.2 example 1; text sources/jcgm/106-2012-en and official PDF reference-docs/JCGM_106_2012_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'j106-nandrolone': {
    inputs: { T: 2, s: 0.2, nu: 9, p_one_sided: 0.95 },
    expected: { t: 1.83, g: 0.37, A: 2.37 },
    tolerance: { abs: 0.005 },
    recomputed: { t: 1.833112932656237, g: 0.3666225865312474 },
    source:
      'JCGM 106:2012, 8.3.3.2 example 2; text sources/jcgm/106-2012-en and official PDF reference-docs/JCGM_106_2012_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'j106-resistors': {
    inputs: { TL: 1499.8, TU: 1500.2, y0: 1500, u0: 0.12, um: 0.04, AL: 1499.82, AU: 1500.18 },
    expected: {
      pc_process: 0.9,
      w_over_U: 0.25,
      RC: 0.01,
      RP: 0.07,
      of_100: {
        conform: 90,
        conform_accepted: 83,
        conform_rejected: 7,
        nonconform_rejected: 9,
        nonconform_accepted: 1,
        accepted: 84,
        rejected: 16,
      },
    },
    tolerance: { abs: 0.005 },
    recomputed: { pc_process: 0.9044192954543706, RC: 0.009878291521772, RP: 0.0690265104615 },
    source:
      'JCGM 106:2012, 9.5.3.2 example, eqs. 21, A.15 to A.17; text sources/jcgm/106-2012-en and official PDF reference-docs/JCGM_106_2012_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
    note: 'recomputed values (quadrature to 1e-12) are the ones a test should use',
  },
  'j106-bearings': {
    inputs: {
      T: 2,
      um: 0.25,
      prior: 'gamma(alpha=4, lambda=4)',
      prior_mean: 1,
      prior_sd: 0.5,
      A: 'T - 2 r um',
      r: 0.65,
    },
    expected: { nonconforming: 0.042, RC: 0.001, RP: 0.075, A: 1.7, prior_mode: 0.75 },
    tolerance: { nonconforming: 0.0005, RC: 0.0001, RP: 0.0005, A: 0.05 },
    recomputed: {
      nonconforming: 0.04238011199,
      'RC_r0.65': 0.00102653613,
      'RP_r0.65': 0.07464969403,
      'r_for_RC_0.001': 0.65634246,
      RC_r0: 0.00801911188,
      RP_r0: 0.01744456923,
      RC_r1: 0.00019932788,
      RP_r1: 0.13082587345,
    },
    source:
      'JCGM 106:2012, 9.5.4.1 example, eqs. 22 to 24; text sources/jcgm/106-2012-en and official PDF reference-docs/JCGM_106_2012_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
    note: 'the text then speaks of 75 in 1000 that fail inspection; RP is a fraction of all items, not of the failed ones',
  },
  'j106-fig17': {
    inputs: { u0: 'T/6', y0: 'centre', w: 0, Cm: [2, 10] },
    expected: { RC: [0.001, 0.0004], RP: [0.015, 0.0007] },
    tolerance: { RC: [0.00005, 0.00005], RP: [0.0005, 0.00005] },
    recomputed: {
      Cm: [2, 3, 4, 10],
      RC: [0.00098158092, 0.00084481214, 0.0007371755, 0.00040813109],
      RP: [0.01467685671, 0.00543537417, 0.00300713655, 0.0007174127],
    },
    source:
      'JCGM 106:2012, 9.5.6.2 and 9.5.6.3; text sources/jcgm/106-2012-en and official PDF reference-docs/JCGM_106_2012_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'j106-coverage': {
    inputs: { k: [1, 2, 3] },
    expected: { P: [0.683, 0.955, 0.997] },
    tolerance: { abs: 0.00051 },
    recomputed: { P: [0.6826894921370859, 0.9544997361036416, 0.9973002039367398] },
    source:
      'JCGM 106:2012, A.3.1; text sources/jcgm/106-2012-en and official PDF reference-docs/JCGM_106_2012_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'ilac-g8-definitions': {
    inputs: { w: 'TL - AL', binary_simple: 'AL = TL', binary_guarded: 'AL = TL - w' },
    expected: { simple_w: 0 },
    tolerance: 'exact',
    source:
      'ILAC-G8:09/2019, 4.1, 4.2.1, 4.2.2; pages 8 and 9 of 20 read at fliphtml5.com/szbrq/ktfm (text pages 8 and 9)',
  },
  'ilac-g8-table1': {
    inputs: {
      rule: ['six sigma', 'three sigma', 'ILAC-G8:2009 rule', 'ISO 14253-1:2017 rule'],
      w_over_U: [3, 1.5, 1, 0.83],
    },
    expected: { PFA_max: [0.000001, 0.0016, 0.025, 0.05] },
    tolerance: 'table',
    recomputed: {
      PFA_at_limit_normal_k2: [9.865876450376946e-10, 0.0013498980316300933, 0.022750131948179195, 0.04845722626672282],
    },
    source:
      'ILAC-G8:09/2019, Table 1; page itself not readable here, the four (w, PFA) pairs read in a secondary public post of 2024-10-24 that lists them',
    note: 'recomputed one-sided risks at the acceptance limit: 9.9e-10, 0.00135, 0.02275, 0.0484; all below the quoted bounds',
  },
  'ilac-g8-table1-rest': {
    inputs: { rule: ['simple acceptance', 'uncritical', 'customer defined'], w: ['0', '-U', 'r U'] },
    expected: { risk: ['PFA < 50 %', 'item rejected for measured value beyond AL = TL + U: PFR < 2.5 %', 'set by r'] },
    tolerance: 'table',
    recomputed: { PFR_at_TL_plus_U: 0.022750131948179195 },
    source: 'ILAC-G8:09/2019, Table 1',
    fromMemory: true,
    note: 'the simple-acceptance 50 % bound was also read in several secondary texts',
  },
}
