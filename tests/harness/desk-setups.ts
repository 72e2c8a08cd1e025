// A rig on the simulated bench and a part, as the files that the start screen finds.

export const rig = {
  name: 'simulated bench',
  manometer: {
    driver: 'ascii-line',
    suctionSign: -1,
    port: { path: 'simulated:good' },
    accuracy: { ofReading: 0, ofFullScale: 0.005, fullScale: { value: 2, unit: 'inH2O' } },
    digit: { value: 0.001, unit: 'inH2O' },
  },
  meter: { driver: 'scpi-query', options: { command: 'READ?' }, pair: 'com-no', port: { path: 'simulated:good' } },
}
export const part = { model: 'DP-62', kind: 'draft-proving', rated: { value: 0.25, unit: 'inH2O', on: 'make' } }
