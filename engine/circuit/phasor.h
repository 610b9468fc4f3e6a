// A phasor: the complex number of steady alternating current, volts, amps, ohms or siemens.
//
//   Phasor z{3, 4};               // 3 ohm of resistance, 4 ohm of reactance
//   double amps = abs(Phasor{120, 0} / z);   // 24
//
// Magnitudes are RMS. Own arithmetic instead of std::complex: only + - * / and sqrt, in one written
// order, so that every compiler and every optimisation level gives the same bits (std::complex
// multiplies by way of a library call that looks for infinities). Division multiplies by the
// conjugate and divides by the squared magnitude; operands within 1e-150 .. 1e150 neither overflow
// nor underflow there.
#pragma once

#include <cmath>

namespace legwork::circuit {

struct Phasor {
  double re = 0;
  double im = 0;

  friend constexpr bool operator==(const Phasor&, const Phasor&) = default;

  constexpr Phasor& operator+=(Phasor b) {
    re += b.re;
    im += b.im;
    return *this;
  }
  constexpr Phasor& operator-=(Phasor b) {
    re -= b.re;
    im -= b.im;
    return *this;
  }
};

constexpr Phasor operator+(Phasor a, Phasor b) { return {a.re + b.re, a.im + b.im}; }
constexpr Phasor operator-(Phasor a, Phasor b) { return {a.re - b.re, a.im - b.im}; }
constexpr Phasor operator-(Phasor a) { return {-a.re, -a.im}; }
constexpr Phasor operator*(Phasor a, Phasor b) {
  return {a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re};
}
constexpr Phasor operator*(double k, Phasor a) { return {k * a.re, k * a.im}; }
constexpr Phasor operator*(Phasor a, double k) { return {a.re * k, a.im * k}; }
constexpr Phasor operator/(Phasor a, double k) { return {a.re / k, a.im / k}; }

constexpr Phasor conj(Phasor a) { return {a.re, -a.im}; }
// Squared magnitude.
constexpr double norm(Phasor a) { return a.re * a.re + a.im * a.im; }
inline double abs(Phasor a) { return std::sqrt(norm(a)); }

constexpr Phasor reciprocal(Phasor a) {
  const double scale = 1.0 / norm(a);
  return {a.re * scale, -(a.im * scale)};
}
constexpr double reciprocal(double a) { return 1.0 / a; }
constexpr Phasor operator/(Phasor a, Phasor b) { return a * reciprocal(b); }

// sqrt(3) and the rotation by +120 degrees, exact to the last bit, without a call of sin or cos.
inline constexpr double kRoot3 = 1.7320508075688772;
inline constexpr Phasor kTurn120{-0.5, kRoot3 / 2};
inline constexpr Phasor kTurn240{-0.5, -kRoot3 / 2};

// magnitude at the angle whose cosine is `power_factor`, lagging: the impedance (positive
// reactance) of a load.
inline Phasor lagging(double magnitude, double power_factor) {
  return {magnitude * power_factor, magnitude * std::sqrt(1.0 - power_factor * power_factor)};
}

}  // namespace legwork::circuit
