#pragma once
// Inside engine/commission: the text of a new unit's file (new_unit.h), written in three parts: its
// circuit, its plant, and what is measured and looked at.

#include <string>
#include <string_view>

#include "engine/base/quantity.h"
#include "engine/commission/size.h"

namespace legwork::commission {

struct SupplyRow {
  std::string_view words, written;
  double motor_v = 0;  // for which the motors are made
  double line_v = 0;   // between the legs
  bool three = true;
};

struct Figures {
  Duty duty;
  Sized sized;
  SupplyRow supply;
  int boxes = 1;  // each takes an equal share of the capacity
  double full_load_a = 0, fan_a = 0, box_fan_a = 0, heater_a = 0;
};

// Up to the next whole `step`.
double rounded(double value, double step);
// Two or three figures that mean something.
std::string figure(double value);
std::string trade(double si, Dimension dimension);
std::string psig(double pa, double step);
std::string fahrenheit(double k);

// Names of the parts of box `i`, from 1: "TC", or of several "TC2".
std::string of_box(const Figures& f, std::string_view name, int i);
// Two in each box, counted through.
std::string pair_of_box(std::string_view name, int i, int k);
// "box.2.air"
std::string quantity_of_box(std::string_view name, int i);

std::string devices_text(const Figures& f);
std::string rungs_text(const Figures& f);
std::string wires_text(const Figures& f);
std::string plant_text(const Figures& f, std::string_view refrigerant);
std::string senses_text(const Figures& f);

}  // namespace legwork::commission
