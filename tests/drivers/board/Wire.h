// The board's I2C bus as far as the sketch calls it.
#pragma once

#include <cstddef>
#include <cstdint>

struct TwoWire {
  void begin();
  void setClock(uint32_t frequencyHz);
  void beginTransmission(uint8_t address);
  size_t write(uint8_t byte);
  uint8_t endTransmission();
  uint8_t requestFrom(uint8_t address, uint8_t count);
  int read();
};
extern TwoWire Wire;
