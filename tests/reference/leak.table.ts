// Leak rates: a published worked example and unit conversions. Each entry: what goes in, what is printed, how closely the print can be met, where it stands.

export const leak = {
  'leak-40cfr1065': {
    inputs: { V_m3: 0.002, R: 8.314472, p2_Pa: 50_600, T2_K: 293.15, p1_Pa: 25_300, T1_K: 293.15, dt_s: 70 },
    expected: { mol_per_s: 0.0003 },
    tolerance: { abs: 0.000005 },
    recomputed: { mol_per_s: 0.00029657046846399, Pa_m3_per_s: 0.72285714286 },
    source:
      '40 CFR 1065.644 (79 FR 23795), vacuum-decay leak rate; equation and inputs read at ecfr.io/Title-40/Section-1065.644; the printed answer from memory',
  },
  'leak-units': {
    expected: { Pa_m3_s_per_sccm: 0.00168875, sccm_per_Pa_m3_s: 592.154 },
    tolerance: { rel: 1e-6 },
    source: 'definition 101325 Pa x 1e-6 m3 / 60 s; rounded table read at www.liwo.com/leak-rate',
  },
} as const
