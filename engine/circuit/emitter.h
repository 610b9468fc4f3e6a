// What a kind uses to say what its devices are made of. One emitter serves one device.
//
//   void emit(Emitter& e) {                       // a fuse
//     TerminalId a = e.point("1"), b = e.point("2");
//     ActuatorId holder = e.hand("holder", 1);
//     ActuatorId link = e.heat("link", {.gone = true});
//     ElementId path = e.contact("", a, b, holder, 1, e.number("contact"));
//     e.also_driven(path, link, 0);
//     e.thermal({.element = path, .scale = ..., .trips = link});
//   }
//
// Points are named without the device ("A1"); an empty name is the device's own ("n").
#pragma once

#include <string>
#include <string_view>

#include "engine/circuit/circuit.h"

namespace legwork::circuit {

class Builder;

class Emitter {
 public:
  Emitter(Builder& builder, DeviceId device) : builder_(builder), device_(device) {}

  DeviceId device() const { return device_; }
  double number(std::string_view key) const;
  std::string_view text(std::string_view key) const;
  bool flag(std::string_view key) const { return number(key) != 0; }
  const Value& value(std::string_view key) const;
  bool given(std::string_view key) const { return value(key).given; }
  double radians_per_second() const;  // of the supply
  const Supply& supply() const;
  // A mistake that only the kind can see ("closes above opens"); located at the value.
  void complain(std::string_view key, Message message, Message hint = {});

  // A point by its name; made when it is first used, in the order of the calls below. (Arguments of
  // one call are evaluated in any order; so a point given as an argument is made inside the call.)
  class Point {
   public:
    Point(TerminalId id) : id_(id) {}  // NOLINT(google-explicit-constructor)
    operator TerminalId() const {
      return id_.valid() ? id_ : emitter_->make_point(name_);
    }  // NOLINT

   private:
    friend class Emitter;
    Point(Emitter* emitter, std::string_view name) : emitter_(emitter), name_(name) {}
    TerminalId id_;
    Emitter* emitter_ = nullptr;
    std::string name_;
  };
  Point point(std::string_view name) { return {this, name}; }
  TerminalId make_point(std::string_view name);  // at once
  TerminalId inner(std::string_view name);       // a joint inside the device

  // Elements; each is also a part of that name.
  ElementId resistor(std::string_view part, const Point& a, const Point& b, double ohm);
  ElementId load(std::string_view part, const Point& a, const Point& b, Phasor y, double g);
  ElementId capacitor(std::string_view part, const Point& a, const Point& b, double farad);
  ElementId coil(std::string_view part, const Point& a, const Point& b, Phasor sealed,
                 Phasor inrush, double g);
  ElementId contact(std::string_view part, const Point& a, const Point& b, ActuatorId driver,
                    int made_at, double closed_ohm);
  void also_driven(ElementId contact, ActuatorId driver, int made_at);
  ElementId element(Element element);                                    // anything else
  void part(std::string_view name, const Point& from, const Point& to);  // no element of its own

  // Actuators; the string is the actuator's part name.
  ActuatorId hand(std::string_view part, int start);
  ActuatorId armature(std::string_view part, const Armature& row);
  ActuatorId threshold(std::string_view part, const Threshold& row, int start);
  ActuatorId heat(std::string_view part, const HeatTrip& row);
  ActuatorId off_delay(std::string_view part, const OffDelay& row);
  ActuatorId clock(std::string_view part, const Clock& row);
  ActuatorId monitor(std::string_view part, const Monitor& row);
  ActuatorId residual(std::string_view part, const Residual& row);
  ThermalId thermal(const Thermal& row);
  MachineId machine(const Machine& row);
  void transformer(const Transformer& row);

  SenseId sense(std::string_view name, Dimension dimension);  // one for all who name it
  LoadId load_motor(MachineId machine);
  LoadId load_heater(ElementId element);
  LoadId load_valve(ElementId coil, ActuatorId armature);

  Circuit& circuit();

 private:
  ActuatorId actuator(ActuatorKind kind, std::string_view part, std::size_t row, int start);
  Builder& builder_;
  DeviceId device_;
};

// y = 1/z of a load that draws `va` at `volts` with that power factor, lagging.
Phasor load_admittance(double va, double volts, double power_factor);

}  // namespace legwork::circuit
