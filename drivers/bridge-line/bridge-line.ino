// A differential-pressure sensor on I2C and two contacts into the lines that the driver bridge-line reads.
//
// Reference sketch in plain C++ for any hobby board that offers Serial, Wire, pinMode, digitalRead and micros.
// 1. Fill in the constants of your sensor from its data sheet, marked "fill in" below.
// 2. Wire each contact between its input and ground, nothing else: the board's own pull-up makes an open one read high.
// 3. Load it, then take the driver bridge-line with the baud rate below. DEVELOPERS.md, "The line of a board", has the format.
// A line takes about 30 characters: at 115 200 baud no more than 350 go out in a second, at 500 000 baud 1 000.

#include <Wire.h>

#include <stdint.h>
#include <stdio.h>

const uint32_t baudRate = 115200;
const uint32_t periodUs = 5000;  // 200 lines a second

const uint8_t sensorAddress = 0;              // fill in
const uint8_t startCommand[] = {0x00, 0x00};  // fill in: what makes the sensor measure over and over
const int32_t stepsPerPascal = 0;             // fill in: the scale factor, steps of the 16-bit word in one pascal
const int16_t highestWord = 32767;            // fill in: at this word and above the sensor is beyond its range
const int16_t lowestWord = -32768;            // fill in: at this word and below it is so the other way
static_assert(sensorAddress > 0 && stepsPerPascal > 0, "Fill in the constants of your sensor first.");

const uint8_t contactPins[] = {2, 3};

uint32_t dueUs;

// The checksum of the line: CRC-16, polynomial A001 reflected, begun at FFFF.
uint16_t crc16(const char *text) {
  uint16_t crc = 0xFFFF;
  for (; *text != '\0'; text++) {
    crc = static_cast<uint16_t>(crc ^ static_cast<uint8_t>(*text));
    for (uint8_t bit = 0; bit < 8; bit++) crc = static_cast<uint16_t>((crc & 1) ? (crc >> 1) ^ 0xA001 : crc >> 1);
  }
  return crc;
}

// The sensor's word, high byte first; false where it did not answer.
bool readWord(int16_t &word) {
  if (Wire.requestFrom(sensorAddress, static_cast<uint8_t>(2)) != 2) return false;
  const int high = Wire.read();
  const int low = Wire.read();
  if (high < 0 || low < 0) return false;
  word = static_cast<int16_t>(static_cast<uint16_t>((high << 8) | low));
  return true;
}

// Pascals with two decimals, OL, -OL or NAN. Whole numbers only: many small boards print no fractions.
void writePressure(char *text, size_t size, bool answered, int16_t word) {
  if (!answered) {
    snprintf(text, size, "NAN");
  } else if (word >= highestWord || word <= lowestWord) {
    snprintf(text, size, word > 0 ? "OL" : "-OL");
  } else {
    const int32_t steps = word < 0 ? -static_cast<int32_t>(word) : word;
    const int32_t hundredths = (steps * 100 + stepsPerPascal / 2) / stepsPerPascal;
    snprintf(text, size, "%s%ld.%02ld", word < 0 ? "-" : "", static_cast<long>(hundredths / 100),
             static_cast<long>(hundredths % 100));
  }
}

char contactLetter(uint8_t pin) { return digitalRead(pin) == LOW ? '1' : '0'; }

void setup() {
  Serial.begin(baudRate);
  for (const uint8_t pin : contactPins) pinMode(pin, INPUT_PULLUP);
  Wire.begin();
  Wire.setClock(400000);
  Wire.beginTransmission(sensorAddress);
  for (const uint8_t part : startCommand) Wire.write(part);
  Wire.endTransmission();
  dueUs = static_cast<uint32_t>(micros());
}

void loop() {
  const uint32_t nowUs = static_cast<uint32_t>(micros());
  // The difference holds when the clock goes round, after 71 minutes.
  if (static_cast<int32_t>(nowUs - dueUs) < 0) return;
  dueUs += periodUs;
  // After a long wait it starts again from now: lines that are missing are not sent late.
  if (static_cast<int32_t>(nowUs - dueUs) > 0) dueUs = nowUs + periodUs;

  // Pressure, contacts and time belong to one moment, before anything is sent.
  int16_t word = 0;
  const bool answered = readWord(word);
  const char first = contactLetter(contactPins[0]);
  const char second = contactLetter(contactPins[1]);

  char pressure[16];
  writePressure(pressure, sizeof pressure, answered, word);
  char line[64];
  snprintf(line, sizeof line, "MB1,%lu,%s,%c,%c", static_cast<unsigned long>(nowUs), pressure, first, second);
  char end[8];
  snprintf(end, sizeof end, "*%04X\r\n", static_cast<unsigned>(crc16(line)));
  Serial.print(line);
  Serial.print(end);
}
