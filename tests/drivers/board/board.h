// The board's API as far as the sketch calls it: a stub that a test feeds with words and contacts, and whose serial port is standard output.
#pragma once

#include <cstddef>
#include <cstdint>

constexpr uint8_t LOW = 0;
constexpr uint8_t HIGH = 1;
constexpr uint8_t INPUT_PULLUP = 2;

void pinMode(uint8_t pin, uint8_t mode);
int digitalRead(uint8_t pin);
unsigned long micros();

struct SerialPort {
  void begin(unsigned long baudRate);
  size_t print(const char *text);
};
extern SerialPort Serial;

void setup();
void loop();
