// Fingerprints: a 64-bit integer that tells two runs apart, and SHA-256 for what must not be
// altered unseen (contents of files, the chain of lines of a shift log).
//
//   Fingerprint f;
//   f.add(tick).add(contact_positions).add("CC");
//   f.value();                      // the same on every compiler and machine
//   sha256_hex("abc");              // "ba7816bf..."
//
// Add integers and text only: a double's last bit is nobody's business. Round it first, as the
// instrument that shows it does.
//
// The 64-bit mix is FNV-1a over bytes (Fowler, Noll, Vo; public domain parameters) with a final
// scramble; not a guard against malice. SHA-256: FIPS 180-4.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

namespace legwork {

class Fingerprint {
 public:
  Fingerprint& add(std::int64_t value);
  Fingerprint& add(std::uint64_t value);
  Fingerprint& add(int value) { return add(static_cast<std::int64_t>(value)); }
  Fingerprint& add(bool value) { return add(static_cast<std::int64_t>(value)); }
  Fingerprint& add(std::string_view text);  // length and bytes
  Fingerprint& add(const char* text) { return add(std::string_view(text)); }
  Fingerprint& add(double) = delete;  // round it first

  std::uint64_t value() const;
  std::string hex() const;  // 16 lower-case digits

 private:
  std::uint64_t state_ = 14695981039346656037ull;
};

std::array<std::uint8_t, 32> sha256(std::string_view bytes);
std::string sha256_hex(std::string_view bytes);  // 64 lower-case digits

}  // namespace legwork
