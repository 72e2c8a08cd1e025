// NIST Statistical Reference Datasets: univariate sets and straight lines with certified values. Each entry: what goes in, what is printed, how closely the print can be met, where it stands.
// `recomputed` = the same quantity worked out independently to more digits; `fromMemory` = not read in the document itself.

export const nistStrd = {
  'strd-michelso': {
    inputs: {
      y: [
        299.85, 299.74, 299.9, 300.07, 299.93, 299.85, 299.95, 299.98, 299.98, 299.88, 300, 299.98, 299.93, 299.65,
        299.76, 299.81, 300, 300, 299.96, 299.96, 299.96, 299.94, 299.96, 299.94, 299.88, 299.8, 299.85, 299.88, 299.9,
        299.84, 299.83, 299.79, 299.81, 299.88, 299.88, 299.83, 299.8, 299.79, 299.76, 299.8, 299.88, 299.88, 299.88,
        299.86, 299.72, 299.72, 299.62, 299.86, 299.97, 299.95, 299.88, 299.91, 299.85, 299.87, 299.84, 299.84, 299.85,
        299.84, 299.84, 299.84, 299.89, 299.81, 299.81, 299.82, 299.8, 299.77, 299.76, 299.74, 299.75, 299.76, 299.91,
        299.92, 299.89, 299.86, 299.88, 299.72, 299.84, 299.85, 299.85, 299.78, 299.89, 299.84, 299.78, 299.81, 299.76,
        299.81, 299.79, 299.81, 299.82, 299.85, 299.87, 299.87, 299.81, 299.74, 299.81, 299.94, 299.95, 299.8, 299.81,
        299.87,
      ],
    },
    expected: { mean: 299.8524, s: 0.0790105478190518, r1: 0.535199668621283 },
    tolerance: { log_relative_error: 13 },
    source:
      'NIST StRD (SRD 140, doi 10.18434/T43G6C) univariate Michelso; GitHub apache/commons-math at commit d9fd8324cb346f55d197f90442a6e1eedeff11a0, commons-math-legacy/src/test/resources/org/apache/commons/math4/legacy/stat/data/Michelso.txt',
  },
  'strd-mavro': {
    inputs: {
      y: [
        2.0018, 2.0017, 2.0018, 2.0019, 2.0018, 2.0017, 2.0015, 2.0014, 2.0015, 2.0015, 2.0017, 2.0018, 2.0018, 2.0019,
        2.0019, 2.0021, 2.002, 2.0016, 2.0014, 2.0013, 2.0013, 2.0015, 2.0015, 2.0016, 2.0015, 2.0014, 2.0013, 2.0014,
        2.0015, 2.0014, 2.0015, 2.0016, 2.0015, 2.0016, 2.0019, 2.002, 2.002, 2.0021, 2.0022, 2.0023, 2.0024, 2.0025,
        2.0027, 2.0026, 2.0026, 2.0026, 2.0027, 2.0026, 2.0025, 2.0024,
      ],
    },
    expected: { mean: 2.001856, s: 0.000429123454003053, r1: 0.937989183438248 },
    tolerance: { log_relative_error: 13 },
    source:
      'NIST StRD (SRD 140, doi 10.18434/T43G6C) univariate Mavro; GitHub apache/commons-math at commit d9fd8324cb346f55d197f90442a6e1eedeff11a0, commons-math-legacy/src/test/resources/org/apache/commons/math4/legacy/stat/data/Mavro.txt',
  },
  'strd-lew': {
    inputs: {
      y: [
        -213, -564, -35, -15, 141, 115, -420, -360, 203, -338, -431, 194, -220, -513, 154, -125, -559, 92, -21, -579,
        -52, 99, -543, -175, 162, -457, -346, 204, -300, -474, 164, -107, -572, -8, 83, -541, -224, 180, -420, -374,
        201, -236, -531, 83, 27, -564, -112, 131, -507, -254, 199, -311, -495, 143, -46, -579, -90, 136, -472, -338,
        202, -287, -477, 169, -124, -568, 17, 48, -568, -135, 162, -430, -422, 172, -74, -577, -13, 92, -534, -243, 194,
        -355, -465, 156, -81, -578, -64, 139, -449, -384, 193, -198, -538, 110, -44, -577, -6, 66, -552, -164, 161,
        -460, -344, 205, -281, -504, 134, -28, -576, -118, 156, -437, -381, 200, -220, -540, 83, 11, -568, -160, 172,
        -414, -408, 188, -125, -572, -32, 139, -492, -321, 205, -262, -504, 142, -83, -574, 0, 48, -571, -106, 137,
        -501, -266, 190, -391, -406, 194, -186, -553, 83, -13, -577, -49, 103, -515, -280, 201, 300, -506, 131, -45,
        -578, -80, 138, -462, -361, 201, -211, -554, 32, 74, -533, -235, 187, -372, -442, 182, -147, -566, 25, 68, -535,
        -244, 194, -351, -463, 174, -125, -570, 15, 72, -550, -190, 172, -424, -385, 198, -218, -536, 96,
      ],
    },
    expected: { mean: -177.435, s: 277.332168044316, r1: -0.307304800605679 },
    tolerance: { log_relative_error: 13 },
    source:
      'NIST StRD (SRD 140, doi 10.18434/T43G6C) univariate Lew; certified values GitHub apache/commons-math at commit d9fd8324cb346f55d197f90442a6e1eedeff11a0, commons-math-legacy/src/test/resources/org/apache/commons/math4/legacy/stat/data/Lew.txt, data GitHub usnistgov/dataplot at commit 19a6caae6643bc7719a9f550595e75c2bc52d1af, lib/data/LEW.DAT',
  },
  'strd-numacc1': {
    inputs: { y: [10000001, 10000003, 10000002] },
    expected: { mean: 10000002, s: 1, r1: -0.5 },
    tolerance: 'exact',
    source:
      'NIST StRD univariate NumAcc1; GitHub usnistgov/dataplot at commit 19a6caae6643bc7719a9f550595e75c2bc52d1af, lib/data/NUMACC1.DAT',
  },
  'strd-numacc2': {
    inputs: { generator: 'first value 1.2, then 1.1 and 1.3 alternating 500 times each', n: 1001 },
    expected: { mean: 1.2, s: 0.1, r1: -0.999 },
    tolerance: { log_relative_error: 13 },
    source:
      'NIST StRD univariate numacc2; GitHub usnistgov/dataplot at commit 19a6caae6643bc7719a9f550595e75c2bc52d1af, lib/data/NUMACC2.DAT header and data',
    note: 'the suggested relative-error floors are for double precision two-pass code; the one-pass sum-of-squares formula fails NumAcc3 and NumAcc4',
  },
  'strd-numacc3': {
    inputs: { generator: 'first value 1000000.2, then 1000000.1 and 1000000.3 alternating 500 times each', n: 1001 },
    expected: { mean: 1000000.2, s: 0.1, r1: -0.999 },
    tolerance: { log_relative_error: 9 },
    source:
      'NIST StRD univariate numacc3; GitHub usnistgov/dataplot at commit 19a6caae6643bc7719a9f550595e75c2bc52d1af, lib/data/NUMACC3.DAT header and data',
    note: 'the suggested relative-error floors are for double precision two-pass code; the one-pass sum-of-squares formula fails NumAcc3 and NumAcc4',
  },
  'strd-numacc4': {
    inputs: { generator: 'first value 10000000.2, then 10000000.1 and 10000000.3 alternating 500 times each', n: 1001 },
    expected: { mean: 10000000.2, s: 0.1, r1: -0.999 },
    tolerance: { log_relative_error: 8 },
    source:
      'NIST StRD univariate numacc4; GitHub usnistgov/dataplot at commit 19a6caae6643bc7719a9f550595e75c2bc52d1af, lib/data/NUMACC4.DAT header and data',
    note: 'the suggested relative-error floors are for double precision two-pass code; the one-pass sum-of-squares formula fails NumAcc3 and NumAcc4',
  },
  'strd-norris': {
    inputs: {
      y: [
        0.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9,
        10.8, 557.7, 228.3, 998, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4,
        449.2, 0.2,
      ],
      x: [
        0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, 0.4, 0.6, 775.5, 666.9, 338, 447.5,
        11.6, 556, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3, 229.2, 669.1,
        448.9, 0.5,
      ],
      model: 'y = B0 + B1 x',
    },
    expected: {
      B0: -0.262323073774029,
      B1: 1.00211681802045,
      s_B0: 0.232818234301152,
      s_B1: 0.000429796848199937,
      residual_sd: 0.884796396144373,
      R2: 0.999993745883712,
      SS_regression: 4255954.13232369,
      MS_residual: 0.782864662630069,
      SS_residual: 26.6173985294224,
    },
    tolerance: { log_relative_error: 9 },
    source:
      'NIST StRD linear regression Norris; GitHub apache/commons-math at commit d9fd8324cb346f55d197f90442a6e1eedeff11a0, SimpleRegressionTest.java (data stored there as y, x); residual sd read in a second public document',
  },
}
