#include "engine/commission/trial.h"

#include <bit>
#include <cmath>
#include <cstring>
#include <limits>

#include "engine/base/fingerprint.h"
#include "engine/base/source_stamp.h"
#include "engine/base/text_file.h"
#include "engine/suspects/parallel.h"

namespace legwork::commission {
namespace {

constexpr std::size_t kMostBytes = 16u << 20;  // three days of a large unit take half of one MiB

// One list of what a trial is made of serves writing and reading.
class Writer {
 public:
  explicit Writer(std::vector<double>& out) : out_(out) {}
  void number(const double& value) { out_.push_back(value); }
  void number(const int& value) { out_.push_back(value); }
  void number(const bool& value) { out_.push_back(value ? 1 : 0); }
  void number(const std::int8_t& value) { out_.push_back(value); }
  void number(const circuit::ActuatorId& value) { out_.push_back(value.index); }
  std::size_t count(std::size_t have, std::size_t) {
    out_.push_back(static_cast<double>(have));
    return have;
  }
  bool good() const { return true; }

 private:
  std::vector<double>& out_;
};

class NumberReader {
 public:
  explicit NumberReader(const std::vector<double>& in) : in_(in) {}
  void number(double& value) {
    value = next();
    if (!std::isfinite(value)) good_ = false;
  }
  void number(int& value) { value = static_cast<int>(whole(-1e9, 1e9)); }
  void number(bool& value) { value = whole(0, 1) == 1; }
  void number(std::int8_t& value) { value = static_cast<std::int8_t>(whole(-1, 1)); }
  void number(circuit::ActuatorId& value) {
    value = circuit::ActuatorId(static_cast<std::int32_t>(whole(0, 1e6)));
  }
  // How many: `wanted` is what the unit asks for; 0: any.
  std::size_t count(std::size_t, std::size_t wanted) {
    const auto many = static_cast<std::size_t>(whole(0, static_cast<double>(in_.size())));
    if (wanted != 0 && many != wanted) good_ = false;
    return good_ ? many : 0;
  }
  bool good() const { return good_; }
  bool at_end() const { return at_ == in_.size(); }

 private:
  double next() {
    if (at_ < in_.size()) return in_[at_++];
    good_ = false;
    return 0;
  }
  double whole(double low, double high) {
    const double value = next();
    if (!(value >= low && value <= high) || value != std::floor(value)) {
      good_ = false;
      return low;
    }
    return value;
  }
  const std::vector<double>& in_;
  std::size_t at_ = 0;
  bool good_ = true;
};

template <class Visitor, class List, class Each>
void visit_list(Visitor& v, List& list, std::size_t wanted, const Each& each) {
  const std::size_t many = v.count(list.size(), wanted);
  if constexpr (!std::is_const_v<List>) list.resize(many);
  for (std::size_t i = 0; i < many && v.good(); ++i) each(list[i]);
}

template <class Visitor, class TrialType>
void visit(Visitor& v, TrialType& trial, const unit::Unit* unit) {
  const auto wanted = [unit](auto&& size_of) { return unit == nullptr ? 0 : size_of(*unit); };
  const std::size_t loads = wanted([](const unit::Unit& u) { return u.circuit.loads.size(); });
  const std::size_t actuators =
      wanted([](const unit::Unit& u) { return u.circuit.actuators.size(); });
  const std::size_t elements =
      wanted([](const unit::Unit& u) { return u.circuit.elements.size(); });
  const std::size_t wires = wanted([](const unit::Unit& u) { return u.circuit.wires.size(); });
  const std::size_t boxes =
      wanted([](const unit::Unit& u) { return plant::evaporator_count(u.plant); });
  const std::size_t compressors =
      wanted([](const unit::Unit& u) { return plant::compressor_count(u.plant); });
  const std::size_t pairs =
      wanted([](const unit::Unit& u) { return rated_pairs(u.circuit).size(); });
  const auto plain = [&v](auto& value) { v.number(value); };
  visit_list(v, trial.days, unit == nullptr ? 0 : 3, [&](auto& day) {
    v.number(day.outdoor_k);
    v.number(day.whole);
    v.number(day.stopped_at);
    v.number(day.stopped_why);
    visit_list(v, day.curve, 0, [&](auto& s) {
      for (auto* value : {&s.minute, &s.suction_pa, &s.head_pa, &s.subcooling_k, &s.bubbles,
                          &s.condensing_k, &s.evaporating_k})
        v.number(*value);
      for (auto* value : {&s.compressor, &s.condenser_fans, &s.defrost}) v.number(*value);
      visit_list(v, s.boxes, boxes, [&](auto& box) {
        for (auto* value : {&box.box_k, &box.product_k, &box.coil_k, &box.superheat_k,
                            &box.frost_share, &box.coil_w})
          v.number(*value);
        for (auto* value : {&box.calling, &box.fed, &box.fans}) v.number(*value);
      });
      visit_list(v, s.compressors, compressors, [&](auto& one) {
        v.number(one.amps);
        v.number(one.on);
      });
    });
    visit_list(v, day.loads, loads, [&](auto& row) {
      v.number(row.on_s);
      v.number(row.starts);
      v.number(row.most_starts_an_hour);
      v.number(row.shortest_run_s);
      v.number(row.most_amps);
    });
    visit_list(v, day.actuators, actuators, [&](auto& row) {
      v.number(row.moves);
      v.number(row.operated);
      v.number(row.first_minute);
      v.number(row.chatter_s);
    });
    visit_list(v, day.most_volts, pairs, plain);
    visit_list(v, day.fuse_amps, elements, plain);
    visit_list(v, day.wire_amps, wires, plain);
    visit_list(v, day.defrosts, 0, [&](auto& row) {
      v.number(row.clock);
      v.number(row.box);
      for (auto* value :
           {&row.from_minute, &row.minutes, &row.warmest_k, &row.frost_before, &row.frost_after})
        v.number(*value);
      v.number(row.heated);
    });
  });
  visit_list(v, trial.proofs, 0, [&](auto& proof) {
    v.number(proof.actuator);
    visit_list(v, proof.stops, loads, plain);
    visit_list(v, proof.starts, loads, plain);
    visit_list(v, proof.moved, actuators, plain);
    visit_list(v, proof.most_volts, pairs, plain);
    v.number(proof.matters);
  });
}

// By what a trial depends on.
std::string name_of(const unit::Unit& unit) {
  std::string text = "trial 2\n" + std::string(source_stamp()) + "\n" + unit.content_hash + "\n";
  // The tables of the refrigerant, by what they say at some temperatures.
  for (double k = 220; k < 340; k += 1) {
    const auto bits = std::bit_cast<std::uint64_t>(unit.plant.refrigerant->dew_pa(k));
    text += std::to_string(bits) + "\n";
  }
  return sha256_hex(text).substr(0, 40) + ".trial";
}

}  // namespace

std::vector<double> numbers_of(const Trial& trial) {
  std::vector<double> out;
  Writer writer(out);
  visit(writer, trial, nullptr);
  return out;
}

std::optional<Trial> trial_of(const std::vector<double>& numbers, const unit::Unit& unit) {
  NumberReader reader(numbers);
  Trial trial;
  visit(reader, trial, &unit);
  if (!reader.good() || !reader.at_end()) return std::nullopt;
  for (const Day& day : trial.days) {
    if (day.stopped_at >= static_cast<int>(unit.circuit.devices.size())) return std::nullopt;
    if (day.curve.empty()) return std::nullopt;
    for (const Defrost& defrost : day.defrosts) {
      if (defrost.clock.slot() >= unit.circuit.actuators.size() || defrost.box < 0 ||
          defrost.box >= static_cast<int>(plant::evaporator_count(unit.plant)))
        return std::nullopt;
    }
  }
  for (const Proof& proof : trial.proofs) {
    if (proof.actuator.slot() >= unit.circuit.actuators.size()) return std::nullopt;
  }
  return trial;
}

bool keep_numbers(const std::string& folder, const std::string& name,
                  const std::vector<double>& numbers) {
  std::string bytes(numbers.size() * sizeof(double), '\0');
  std::memcpy(bytes.data(), numbers.data(), bytes.size());
  return write_whole_file(folder + "/" + name, sha256_hex(bytes) + bytes);
}

std::optional<std::vector<double>> kept_numbers(const std::string& folder,
                                                const std::string& name) {
  constexpr std::size_t kSeal = 64;
  const Result<std::string> kept = read_regular_file(folder + "/" + name, kMostBytes + kSeal);
  if (!kept || kept->size() < kSeal || kept->size() > kMostBytes + kSeal) return std::nullopt;
  const std::string_view bytes = std::string_view(*kept).substr(kSeal);
  if (bytes.size() % sizeof(double) != 0 || sha256_hex(bytes) != kept->substr(0, kSeal))
    return std::nullopt;
  std::vector<double> numbers(bytes.size() / sizeof(double));
  std::memcpy(numbers.data(), bytes.data(), bytes.size());
  return numbers;
}

Trial try_unit(const unit::UnitPtr& unit, const TrialOptions& options) {
  const std::string name = name_of(*unit);
  const bool keep = !options.kept_in.empty() && !options.middle_only;
  if (keep) {
    if (const auto numbers = kept_numbers(options.kept_in, name)) {
      if (std::optional<Trial> trial = trial_of(*numbers, *unit)) return std::move(*trial);
    }
  }
  Trial trial;
  std::vector<double> outdoors = three_days(*unit);
  if (options.middle_only) outdoors = {outdoors[1]};
  trial.days.resize(outdoors.size());
  Moments moments;
  suspects::for_each_index(outdoors.size(), options.threads, [&](std::size_t i) {
    trial.days[i] = live_a_day(unit, outdoors[i], i == outdoors.size() / 2 ? &moments : nullptr);
  });
  trial.proofs = prove_controls(moments.worlds);
  if (keep) keep_numbers(options.kept_in, name, numbers_of(trial));
  return trial;
}

}  // namespace legwork::commission
