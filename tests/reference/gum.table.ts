// JCGM 100:2008 (GUM): worked examples and tables. Each entry: what goes in, what is printed, how closely the print can be met, where it stands.
// `recomputed` = the same quantity worked out independently to more digits; `fromMemory` = not read in the document itself.

export const gum = {
  'gum-type-a-20': {
    inputs: {
      observations_C: [
        96.9, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68, 100.95, 101.11,
        101.2, 101.57, 101.84, 102.36, 102.72,
      ],
    },
    expected: { mean: 100.145, s: 1.489, u_mean: 0.333 },
    tolerance: { abs: 0.0005 },
    recomputed: { mean: 100.145, s: 1.4888444830595435, u_mean: 0.3329157472046673 },
    source:
      'JCGM 100:2008 (GUM), 4.4.3 and Table 1; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'gum-cert-99': {
    inputs: { U_uOhm: 129, level_percent: 99, factor: 2.58 },
    expected: { u_uOhm: 50 },
    tolerance: { abs: 0.5 },
    source:
      'JCGM 100:2008 (GUM), 4.3.4 example; factors 1.64, 1.96, 2.58 for 90, 95, 99 percent; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'gum-fifty-fifty': {
    inputs: { a_mm: 0.04, factor: 1.48 },
    expected: { u_mm: 0.06, u2_mm2: 0.0035 },
    tolerance: { u_mm: 0.005, u2_mm2: 0.00005 },
    recomputed: { u_mm: 0.0592 },
    source:
      'JCGM 100:2008 (GUM), 4.3.5 example; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'gum-G1': {
    inputs: { p_percent: [68.27, 90, 95, 95.45, 99, 99.73] },
    expected: { k: [1, 1.645, 1.96, 2, 2.576, 3] },
    tolerance: { abs: 0.0005 },
    source:
      'JCGM 100:2008 (GUM), Table G.1; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'gum-G2': {
    inputs: {
      p_percent: [68.27, 90, 95, 95.45, 99, 99.73],
      nu: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 25, 30, 35, 40, 45, 50, 100],
    },
    expected: {
      t: [
        [1.84, 6.31, 12.71, 13.97, 63.66, 235.8],
        [1.32, 2.92, 4.3, 4.53, 9.92, 19.21],
        [1.2, 2.35, 3.18, 3.31, 5.84, 9.22],
        [1.14, 2.13, 2.78, 2.87, 4.6, 6.62],
        [1.11, 2.02, 2.57, 2.65, 4.03, 5.51],
        [1.09, 1.94, 2.45, 2.52, 3.71, 4.9],
        [1.08, 1.89, 2.36, 2.43, 3.5, 4.53],
        [1.07, 1.86, 2.31, 2.37, 3.36, 4.28],
        [1.06, 1.83, 2.26, 2.32, 3.25, 4.09],
        [1.05, 1.81, 2.23, 2.28, 3.17, 3.96],
        [1.05, 1.8, 2.2, 2.25, 3.11, 3.85],
        [1.04, 1.78, 2.18, 2.23, 3.05, 3.76],
        [1.04, 1.77, 2.16, 2.21, 3.01, 3.69],
        [1.04, 1.76, 2.14, 2.2, 2.98, 3.64],
        [1.03, 1.75, 2.13, 2.18, 2.95, 3.59],
        [1.03, 1.75, 2.12, 2.17, 2.92, 3.54],
        [1.03, 1.74, 2.11, 2.16, 2.9, 3.51],
        [1.03, 1.73, 2.1, 2.15, 2.88, 3.48],
        [1.03, 1.73, 2.09, 2.14, 2.86, 3.45],
        [1.03, 1.72, 2.09, 2.13, 2.85, 3.42],
        [1.02, 1.71, 2.06, 2.11, 2.79, 3.33],
        [1.02, 1.7, 2.04, 2.09, 2.75, 3.27],
        [1.01, 1.7, 2.03, 2.07, 2.72, 3.23],
        [1.01, 1.68, 2.02, 2.06, 2.7, 3.2],
        [1.01, 1.68, 2.01, 2.06, 2.69, 3.18],
        [1.01, 1.68, 2.01, 2.05, 2.68, 3.16],
        [1.005, 1.66, 1.984, 2.025, 2.626, 3.077],
      ],
      t_infinity: [1, 1.645, 1.96, 2, 2.576, 3],
    },
    tolerance: { abs: 0.0051, abs_nu_100_and_infinity: 0.00051 },
    source:
      'JCGM 100:2008 (GUM), Table G.2 (PDF p. 90, printed p. 78); text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
    note: 'two cells need care: nu=35, p=90 is printed 1.70 while the exact value is 1.6896 (a misprint of the document, in the PDF too); nu=1, p=99.73 is 235.80 only with p=2*Phi(3)-1 (235.784 with p=0.9973)',
  },
  'gum-E1': {
    inputs: { n: [2, 3, 4, 5, 10, 20, 30, 50] },
    expected: { percent: [76, 52, 42, 36, 24, 16, 13, 10] },
    tolerance: { abs: 0.5 },
    recomputed: { percent: [75.551, 52.272, 42.202, 36.3, 23.876, 16.326, 13.186, 10.127] },
    source:
      'JCGM 100:2008 (GUM), Table E.1; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
    note: 'recomputed as 100 sqrt(1/c4^2 - 1)',
  },
  'gum-ws-relative': {
    inputs: { relative_u_percent: [0.25, 0.57, 0.82], n: [10, 5, 15] },
    expected: { uc_percent: 1.03, nu_eff: 19, t95: 2.09, U95_percent: 2.2 },
    tolerance: { uc_percent: 0.005, nu_eff: 0.05, t95: 0.005, U95_percent: 0.05 },
    recomputed: { nu_eff: 18.99874, t95: 2.0930240544 },
    source:
      'JCGM 100:2008 (GUM), G.4.1 example; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'gum-k-sqrt3': {
    inputs: { k: 1.7320508075688772, distribution: 'normal' },
    expected: { p_percent: 91.673 },
    tolerance: { abs: 0.0005 },
    recomputed: { p_percent: 91.67354833364496 },
    source:
      'JCGM 100:2008 (GUM), G.5.2 note 2; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'gum-H1': {
    inputs: {
      lS_mm: 50.000623,
      d_mean_nm: 215,
      u_lS_nm: 25,
      u_dbar_nm: 5.8,
      u_d1_nm: 3.9,
      u_d2_nm: 6.7,
      alphaS_per_C: 0.0000115,
      u_alphaS_per_C: 0.0000012,
      theta_C: -0.1,
      u_theta_C: 0.41,
      u_dalpha_per_C: 5.8e-7,
      u_dtheta_C: 0.029,
      nu_lS: 18,
      nu_dbar: 24,
      nu_d1: 5,
      nu_d2: 8,
      nu_dalpha: 50,
      nu_dtheta: 2,
    },
    expected: {
      u_d_nm: 9.7,
      nu_d: 25.6,
      contributions_nm: { lS: 25, d: 9.7, alphaS: 0, theta: 0, dalpha: 2.9, dtheta: 16.6 },
      uc2_nm2: 1002,
      uc_nm: 32,
      uc_relative: 6.4e-7,
      nu_eff_untruncated: 16.7,
      nu_eff: 16,
      t99: 2.92,
      U99_nm: 93,
      l_mm: 50.000838,
      U99_relative: 0.0000019,
    },
    tolerance: {
      u_d_nm: 0.05,
      nu_d: 0.05,
      contributions_nm: 0.05,
      uc2_nm2: 2,
      uc_nm: 0.5,
      nu_eff_untruncated: 0.1,
      t99: 0.005,
      U99_nm: 1,
      l_mm: 5e-7,
    },
    recomputed: {
      uc2_from_rounded_parts: 1003.06,
      nu_eff_from_rounded_parts: 16.7646,
      nu_eff_with_uc_32: 17.4718,
      t99_16: 2.9207816224,
    },
    source:
      'JCGM 100:2008 (GUM), H.1, Table H.1, H.1.6; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
    note: 'the quotient printed in H.1.6 with 32 nm in the numerator gives 17.47, not 16.7; 16.7 comes from the unrounded uc (about 31.7 nm). 93 nm is 2.92 x 32; unrounded 92.5',
  },
  'gum-H1-inputs': {
    inputs: {
      s_pooled_nm: 13,
      n: 5,
      comparator_random_nm: 10,
      t95_5: 2.57,
      comparator_systematic_nm: 20,
      k: 3,
      U_standard_nm: 75,
      k_standard: 3,
      alpha_bound: 0.000002,
      dalpha_bound: 0.000001,
      dtheta_bound_C: 0.05,
    },
    expected: {
      u_dbar_nm: 5.8,
      u_d1_nm: 3.9,
      u_d2_nm: 6.7,
      u_lS_nm: 25,
      u_alphaS: 0.0000012,
      u_dalpha: 5.8e-7,
      u_dtheta_C: 0.029,
    },
    tolerance: { nm: 0.05, per_C: 5e-8, C: 0.0005 },
    source:
      'JCGM 100:2008 (GUM), H.1.3; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'gum-H2': {
    inputs: {
      V_V: [5.007, 4.994, 5.005, 4.99, 4.999],
      I_mA: [19.663, 19.639, 19.64, 19.685, 19.678],
      phi_rad: [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
    },
    expected: {
      mean: [4.999, 19.661, 1.04446],
      u_mean: [0.0032, 0.0095, 0.00075],
    },
    source:
      'JCGM 100:2008 (GUM), H.2, Table H.2; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'gum-H3': {
    inputs: {
      t_C: [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511],
      b_C: [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16],
      t0_C: 20,
    },
    expected: {
      y1: -0.1712,
      y2: 0.00218,
      s_y2: 0.00067,
      s: 0.0035,
      b_at_30: -0.1494,
      dof: 9,
    },
    tolerance: {
      y1: 0.00005,
      y2: 0.000005,
      s_y2: 0.000005,
      s: 0.00005,
      b_at_30: 0.00005,
    },
    recomputed: {
      y1: -0.17120379,
      y2: 0.0021827,
      s: 0.003497564,
      b_at_30: -0.14937681,
    },
    source:
      'JCGM 100:2008 (GUM), H.3, Table H.6; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
    note: 'the closest published model to a manometer correction line',
  },
  'gum-H5': {
    inputs: {
      daily_mean_V: [
        10.000172, 10.000116, 10.000013, 10.000144, 10.000106, 10.000031, 10.00006, 10.000125, 10.000163, 10.000041,
      ],
      daily_s_uV: [60, 77, 111, 101, 67, 93, 80, 73, 88, 86],
      J: 10,
      K: 5,
    },
    expected: {
      grand_mean_V: 10.000097,
      s_daily_means_uV: 57,
      s_a_uV: 128,
      s_b_uV: 85,
      F: 2.25,
      F95_9_40: 2.12,
      F975_9_40: 2.45,
      s_pooled_mean_uV: 13,
      nu_pooled: 49,
      s_W_uV: 85,
      s_B_uV: 43,
      s_mean_with_day_effect_uV: 18,
      nu_with_day_effect: 9,
    },
    tolerance: { uV: 0.5, F: 0.02, Fcrit: 0.005 },
    recomputed: {
      s_daily_means_uV: 57.0895,
      s_a_uV: 127.656,
      s_b_uV: 84.887,
      F: 2.26152,
      s_B_uV: 42.6386,
      s_pooled_mean_uV: 13.3232,
      s_mean_with_day_effect_uV: 18.0533,
    },
    source:
      'JCGM 100:2008 (GUM), H.5, Table H.9; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
    note: 'nested design between/within days: the same algebra serves between-actuation and between-setup repeatability',
  },
  'gum-rounding': {
    inputs: {
      cases: [
        ['u_mOhm', 10.47],
        ['u_kHz', 28.05],
        ['y_Ohm with u 27 mOhm', 10.05762],
      ],
    },
    expected: { reported: [11, 28, 10.058] },
    tolerance: 'exact',
    source:
      'JCGM 100:2008 (GUM), 7.2.6; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
  },
  'gum-report': {
    inputs: { y_g: 100.02147, uc_mg: 0.35, nu: 9, k: 2.26 },
    expected: { parenthesis: '100.02147(35) g', U_mg: 0.79 },
    tolerance: { abs: 0.005 },
    source:
      'JCGM 100:2008 (GUM), 7.2.2 and 7.2.4; text sources/jcgm/100-2008-en and official PDF reference-docs/JCGM_100_2008_E.pdf, GitHub metanorma/mn-samples-jcgm at commit e5c2c7b46f758e3371b086809600e7c6cdc9364f',
    note: 'the transcription prints k = 2,26 with a stray blank; 2.26 = t95(9)',
  },
}
