// Runs the sketch on the stub: each line of standard input, "WORD CONTACT CONTACT", is one answer of the sensor; "- 0 0" is none.
#include "board.h"
#include "Wire.h"

#include <cstdio>
#include <cstdlib>
#include <string>

SerialPort Serial;
TwoWire Wire;

namespace {
uint32_t clockUs = 0;
bool opened = false, busBegun = false, started = false;
bool pulledUp[256] = {};
bool closed[2] = {};
uint8_t answer[2] = {};
int left = 0;

void must(bool held, const char *what) {
  if (held) return;
  std::fprintf(stderr, "%s\n", what);
  std::exit(1);
}
}  // namespace

void pinMode(uint8_t pin, uint8_t mode) { pulledUp[pin] = mode == INPUT_PULLUP; }

int digitalRead(uint8_t pin) {
  must(pulledUp[pin], "an input without a pull-up was read");
  return closed[pin % 2] ? LOW : HIGH;
}

// As on a small board: 32 bits, each look takes its time.
unsigned long micros() { return static_cast<unsigned long>(clockUs += 40); }

void SerialPort::begin(unsigned long) { opened = true; }

size_t SerialPort::print(const char *text) {
  must(opened, "the serial port was not opened");
  const std::string bytes(text);
  // 115 200 baud: the sketch waits while a full buffer empties.
  clockUs += static_cast<uint32_t>(bytes.size()) * 87;
  std::fputs(text, stdout);
  return bytes.size();
}

void TwoWire::begin() { busBegun = true; }
void TwoWire::setClock(uint32_t) {}
void TwoWire::beginTransmission(uint8_t) { must(busBegun, "the bus was not begun"); }
size_t TwoWire::write(uint8_t) { return 1; }

uint8_t TwoWire::endTransmission() {
  started = true;
  return 0;
}

uint8_t TwoWire::requestFrom(uint8_t, uint8_t count) {
  must(started && count == 2, "the sensor was not started, or asked for another length");
  char word[16];
  int first = 0, second = 0;
  if (std::scanf("%15s %d %d", word, &first, &second) != 3) {
    std::fflush(stdout);
    std::exit(0);
  }
  closed[0] = first != 0;
  closed[1] = second != 0;
  left = std::string(word) == "-" ? 0 : 2;
  const int value = std::atoi(word);
  answer[0] = static_cast<uint8_t>((value >> 8) & 0xFF);
  answer[1] = static_cast<uint8_t>(value & 0xFF);
  return static_cast<uint8_t>(left);
}

int TwoWire::read() { return left > 0 ? answer[2 - left--] : -1; }

int main(int, char **arguments) {
  clockUs = static_cast<uint32_t>(std::strtoul(arguments[1], nullptr, 10));
  setup();
  for (;;) loop();
}
