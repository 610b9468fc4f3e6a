// Fills a Refrigerant's tables. Iteration is fine here: it happens once, and with series.h it gives
// the same bits everywhere.
#include <charconv>
#include <cmath>
#include <optional>
#include <vector>

#include "engine/base/quantity.h"
#include "engine/base/split.h"
#include "engine/plant/refrigerant.h"
#include "engine/plant/series.h"

namespace legwork::plant {
namespace {

constexpr double kGas = 8.314462618;  // J/(mol K), CODATA 2018
constexpr double kKgM3PerLbFt3 = 16.018463373960142;
constexpr double kJKgPerBtuLb = 2326.0;

// Molar mass: ANSI/ASHRAE 34, from memory. Ideal-gas heat capacity at 298 K and its slope: mass
// averages of the components, from memory. Wrong values would show in the cycle rows.
struct GasRow {
  std::string_view name;
  double kg_mol, j_kg_k, j_kg_k2;
};
constexpr GasRow kGases[] = {
    {"R-404A", 0.09760, 868, 1.72}, {"R-507A", 0.09886, 863, 1.70}, {"R-134a", 0.10203, 851, 1.60},
    {"R-22", 0.08647, 646, 1.10},   {"R-290", 0.04410, 1669, 4.50}, {"R-410A", 0.07259, 808, 1.40},
    {"R-448A", 0.08628, 841, 1.58}, {"R-449A", 0.08721, 843, 1.60},
};

constexpr int kTableLow = -40, kTableHigh = 150, kFitLow = -60, kFitHigh = 155;

struct Row {
  double bubble_pa, dew_pa, liquid_kg_m3, vapour_kg_m3, liquid_j_kg, vapour_j_kg;
};

bool read_number(std::string_view text, double& value) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc() && end == text.data() + text.size() && std::isfinite(value);
}

// Calls `take(number, line)` for each line that is neither a remark nor blank, until it says no.
template <typename Take>
void each_line(std::string_view text, Take take) {
  for (int number = 1; !text.empty(); ++number) {
    const std::size_t end = text.find('\n');
    std::string_view line = text.substr(0, end);
    text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    if (!line.empty() && line.front() != '#' && !take(number, line)) return;
  }
}

// Empty: all is well.
Message read_table(std::string_view text, std::vector<Row>& rows) {
  Message error;
  bool heading = true;
  each_line(text, [&](int number, std::string_view line) {
    if (heading) {
      heading = false;
      if (line.starts_with("temperature_F,bubble_psia,dew_psia")) return true;
      error = say("line {line}: expected the headings of a saturation table",
                  {{"line", Number{number}}});
      return false;
    }
    const std::vector<std::string_view> cells = split(line, ',');
    double v[10];
    if (cells.size() != 10) {
      error = say("line {line}: expected 10 numbers, found {n}",
                  {{"line", Number{number}}, {"n", Number{cells.size()}}});
      return false;
    }
    for (std::size_t i = 0; i < 10; ++i) {
      if (read_number(cells[i], v[i])) continue;
      error = say("line {line}: expected a number, found '{found}'",
                  {{"line", Number{number}}, {"found", Name{cells[i].substr(0, 40)}}});
      return false;
    }
    if (v[0] != kTableLow + static_cast<double>(rows.size()) || v[0] > kTableHigh) {
      error =
          say("line {line}: expected {low} to {high} F in steps of 1",
              {{"line", Number{number}}, {"low", Number{kTableLow}}, {"high", Number{kTableHigh}}});
      return false;
    }
    rows.push_back({v[1] * kPascalsPerPsi, v[2] * kPascalsPerPsi, v[5] * kKgM3PerLbFt3,
                    v[6] * kKgM3PerLbFt3, v[7] * kJKgPerBtuLb, v[8] * kJKgPerBtuLb});
    const Row& row = rows.back();
    const bool rises = rows.size() < 2 ||
                       (row.bubble_pa > (&row)[-1].bubble_pa && row.dew_pa > (&row)[-1].dew_pa &&
                        row.vapour_kg_m3 > (&row)[-1].vapour_kg_m3);
    if (!(rises && row.dew_pa > 0 && row.bubble_pa >= row.dew_pa && row.vapour_kg_m3 > 0 &&
          row.liquid_kg_m3 > row.vapour_kg_m3 && row.vapour_j_kg > row.liquid_j_kg)) {
      error = say("line {line}: out of order: pressure and vapour density must rise",
                  {{"line", Number{number}}});
      return false;
    }
    return true;
  });
  if (error.empty() && rows.size() != static_cast<std::size_t>(kTableHigh - kTableLow + 1)) {
    error = say("expected {n} rows, found {found}",
                {{"n", Number{kTableHigh - kTableLow + 1}}, {"found", Number{rows.size()}}});
  }
  return error;
}

struct Correlations {
  std::array<double, 6> bubble{}, dew{}, density{}, liquid_density{}, liquid{}, vapour{};
};

Message read_correlations(std::string_view text, std::string_view name, Correlations& out) {
  struct Kind {
    std::string_view name;
    std::array<double, 6> Correlations::*member;
  };
  constexpr Kind kKinds[] = {
      {"lnp_bubble", &Correlations::bubble}, {"lnp_dew", &Correlations::dew},
      {"lnrhov", &Correlations::density},    {"rhol", &Correlations::liquid_density},
      {"hl", &Correlations::liquid},         {"hv", &Correlations::vapour},
  };
  Message error;
  unsigned found = 0;
  each_line(text, [&](int number, std::string_view line) {
    const std::vector<std::string_view> cells = split(line, ',');
    if (cells.size() < 8 || cells[0] != name) return true;
    std::array<double, 6> c{};
    for (std::size_t i = 0; i < 6; ++i) {
      if (read_number(cells[i + 2], c[i])) continue;
      error = say("correlations, line {line}: expected a number, found '{found}'",
                  {{"line", Number{number}}, {"found", Name{cells[i + 2].substr(0, 40)}}});
      return false;
    }
    for (std::size_t i = 0; i < 6; ++i) {
      if (cells[1] == kKinds[i].name) out.*kKinds[i].member = c, found |= 1u << i;
    }
    if (cells[1] == "lnp_sat") out.bubble = out.dew = c, found |= 3u;
    return true;
  });
  if (error.empty() && found != 0x3fu) {
    error = say("correlations: missing rows for '{name}'", {{"name", Name{name.substr(0, 40)}}});
  }
  return error;
}

double polynomial(const std::array<double, 6>& c, double x) {
  double sum = 0.0;
  for (std::size_t i = 6; i-- > 0;) sum = sum * x + c[i];
  return sum;
}

}  // namespace

// A friend of Refrigerant: the only code that writes one.
struct RefrigerantBuilder {
  static constexpr int kLow = -120;
  static constexpr int kNodes = Refrigerant::kTemperatureNodes;

  const GasRow& gas;
  const Correlations& fit;
  std::vector<Row> rows = std::vector<Row>(kNodes);           // by F from -120
  std::vector<double> entropy = std::vector<double>(kNodes);  // at dew
  std::shared_ptr<Refrigerant> out = std::make_shared<Refrigerant>();

  static double kelvin(int node) { return kelvin_from_fahrenheit(kLow + node); }

  void set_name(std::string_view name) { out->name_ = std::string(name); }

  Row fitted(double f) const {
    const double u = 1000.0 / (f + 459.67) - 2.0;
    const double v = f / 100.0;
    return {exp_series(polynomial(fit.bubble, u)), exp_series(polynomial(fit.dew, u)),
            polynomial(fit.liquid_density, v),     exp_series(polynomial(fit.density, u)),
            polynomial(fit.liquid, v) + 0.0,       polynomial(fit.vapour, v) + 0.0};
  }

  // The fit outside the table, moved so that it meets the table at its end.
  Row beside(const Row& end, int end_f, int f) const {
    const Row here = fitted(f);
    const Row there = fitted(end_f);
    const double steps = f - end_f;
    // Vapour density is fitted up to 80 F only; above the table it follows pressure and slope.
    return {end.bubble_pa * here.bubble_pa / there.bubble_pa,
            end.dew_pa * here.dew_pa / there.dew_pa,
            end.liquid_kg_m3 + (here.liquid_kg_m3 - there.liquid_kg_m3) * kKgM3PerLbFt3,
            steps < 0 ? end.vapour_kg_m3 * here.vapour_kg_m3 / there.vapour_kg_m3 : 0.0,
            end.liquid_j_kg + (here.liquid_j_kg - there.liquid_j_kg) * kJKgPerBtuLb,
            end.vapour_j_kg + (here.vapour_j_kg - there.vapour_j_kg) * kJKgPerBtuLb};
  }

  // One more node beyond `end`, whose neighbour on the inner side is `inner`.
  static Row beyond(const Row& inner, const Row& end, double inner_k, double end_k, double k) {
    const double share = (1.0 / k - 1.0 / end_k) / (1.0 / end_k - 1.0 / inner_k);
    const auto onward = [share](double from, double to) {
      return to * exp_series(share * (log_series(to) - log_series(from)));
    };
    const double steps = (k - end_k) / (end_k - inner_k);
    Row row = end;
    row.bubble_pa = onward(inner.bubble_pa, end.bubble_pa);
    row.dew_pa = onward(inner.dew_pa, end.dew_pa);
    if (row.bubble_pa < row.dew_pa) row.bubble_pa = row.dew_pa;
    row.vapour_kg_m3 = end.vapour_kg_m3 * (row.dew_pa / end.dew_pa) * (end_k / k);
    row.liquid_j_kg = end.liquid_j_kg + steps * (end.liquid_j_kg - inner.liquid_j_kg);
    if (k < end_k) {
      row.vapour_j_kg = end.vapour_j_kg + steps * (end.vapour_j_kg - inner.vapour_j_kg);
      row.liquid_kg_m3 = end.liquid_kg_m3 + steps * (end.liquid_kg_m3 - inner.liquid_kg_m3);
    } else {
      // Near and past the critical point no line holds: keep a little latent heat and a liquid
      // heavier than its vapour.
      row.liquid_j_kg = end.liquid_j_kg;
      if (row.vapour_kg_m3 > 0.9 * row.liquid_kg_m3) row.vapour_kg_m3 = end.vapour_kg_m3 * 1.001;
    }
    return row;
  }

  void fill_rows(const std::vector<Row>& table) {
    const auto at = [this](int f) -> Row& { return rows[static_cast<std::size_t>(f - kLow)]; };
    for (int f = kTableLow; f <= kTableHigh; ++f) {
      at(f) = table[static_cast<std::size_t>(f - kTableLow)];
    }
    for (int f = kTableLow - 1; f >= kFitLow; --f) at(f) = beside(at(kTableLow), kTableLow, f);
    for (int f = kTableHigh + 1; f <= kFitHigh; ++f) {
      at(f) = beside(at(kTableHigh), kTableHigh, f);
      at(f).vapour_kg_m3 = 2.0 * at(f - 1).vapour_kg_m3 - at(f - 2).vapour_kg_m3;
    }
    for (int f = kFitLow - 1; f >= kLow; --f) {
      at(f) = beyond(at(f + 2), at(f + 1), kelvin_from_fahrenheit(f + 2),
                     kelvin_from_fahrenheit(f + 1), kelvin_from_fahrenheit(f));
    }
    for (int f = kFitHigh + 1; f < kLow + kNodes; ++f) {
      at(f) = beyond(at(f - 2), at(f - 1), kelvin_from_fahrenheit(f - 2),
                     kelvin_from_fahrenheit(f - 1), kelvin_from_fahrenheit(f));
    }
    // Along the dew line: ds = (dh - v dp) / T.
    for (int n = 1; n < kNodes; ++n) {
      const Row& a = rows[static_cast<std::size_t>(n) - 1];
      const Row& b = rows[static_cast<std::size_t>(n)];
      const double specific = 0.5 / a.vapour_kg_m3 + 0.5 / b.vapour_kg_m3;
      entropy[static_cast<std::size_t>(n)] =
          entropy[static_cast<std::size_t>(n) - 1] +
          (b.vapour_j_kg - a.vapour_j_kg - specific * (b.dew_pa - a.dew_pa)) /
              (0.5 * (kelvin(n - 1) + kelvin(n)));
    }
  }

  // A node position (with fraction) whose pressure is `pa`.
  template <typename Member>
  double node_of(Member member, double pa) const {
    int low = 0;
    int high = kNodes - 1;
    while (high - low > 1) {
      const int middle = (low + high) / 2;
      (rows[static_cast<std::size_t>(middle)].*member <= pa ? low : high) = middle;
    }
    const double a = rows[static_cast<std::size_t>(low)].*member;
    const double b = rows[static_cast<std::size_t>(high)].*member;
    const double t = (pa - a) / (b - a);
    return low + (t < 0.0 ? 0.0 : t > 1.0 ? 1.0 : t);
  }

  double mix(const std::vector<double>& column, double node) const {
    int n = static_cast<int>(node);
    if (n > kNodes - 2) n = kNodes - 2;
    const double a = column[static_cast<std::size_t>(n)];
    return a + (node - n) * (column[static_cast<std::size_t>(n) + 1] - a);
  }
  template <typename Member>
  double mix(Member member, double node) const {
    int n = static_cast<int>(node);
    if (n > kNodes - 2) n = kNodes - 2;
    const double a = rows[static_cast<std::size_t>(n)].*member;
    return a + (node - n) * (rows[static_cast<std::size_t>(n) + 1].*member - a);
  }

  // Enthalpy and entropy over their dew values on one isobar: of the ideal gas, and the departure
  // of a compressibility that goes to 1 with x^n: h = -n R T (1 - z), s = -(n - 1) R (1 - z). The
  // exponent is 4, and steeper near the critical point; fitted to the cycle rows.
  struct Rise {
    double j_kg, j_kg_k;
  };
  Rise superheated(double dew_k, double z, double superheat) const {
    const double gas_constant = kGas / gas.kg_mol;
    const double k = dew_k + superheat;
    double n = 4.0 + 7.0 * (0.75 - z);
    if (n < 4.0) n = 4.0;
    if (n > 5.2) n = 5.2;
    const double lack = 1.0 - z;
    const double ratio = log_series(k / dew_k);
    const double lack_here = lack * exp_series(-n * ratio);
    const double middle = gas.j_kg_k + gas.j_kg_k2 * (0.5 * (dew_k + k) - 298.15);
    return {middle * superheat + n * gas_constant * (lack * dew_k - lack_here * k),
            middle * ratio + (n - 1.0) * gas_constant * (lack - lack_here)};
  }

  Saturation saturation(double pa) const {
    Saturation s;
    const double dew = node_of(&Row::dew_pa, pa);
    const double bubble = node_of(&Row::bubble_pa, pa);
    s.dew_k = kelvin_from_fahrenheit(kLow + dew);
    s.bubble_k = kelvin_from_fahrenheit(kLow + bubble);
    s.vapour_kg_m3 = mix(&Row::vapour_kg_m3, dew);
    // Under the coldest node density goes on with pressure.
    if (dew == 0.0) s.vapour_kg_m3 = rows[0].vapour_kg_m3 * pa / rows[0].dew_pa;
    s.vapour_j_kg = mix(&Row::vapour_j_kg, dew);
    s.liquid_j_kg = mix(&Row::liquid_j_kg, bubble);
    s.compressibility = pa * gas.kg_mol / (s.vapour_kg_m3 * kGas * s.dew_k);
    if (s.compressibility > 1.0) s.compressibility = 1.0;
    if (s.compressibility < 0.3) s.compressibility = 0.3;
    const double near = superheated(s.dew_k, s.compressibility, 20.0).j_kg / 20.0;
    const double far = superheated(s.dew_k, s.compressibility, 70.0).j_kg / 70.0;
    s.square_j_kg_k2 = (far - near) / 50.0;
    s.linear_j_kg_k = near - 20.0 * s.square_j_kg_k2;
    return s;
  }

  void fill_by_pressure() {
    Refrigerant& r = *out;
    r.highest_pa_ = rows.back().dew_pa;
    r.root_low_ = std::sqrt(1000.0);
    const double span = std::sqrt(r.highest_pa_) - r.root_low_;
    r.root_scale_ = (Refrigerant::kRootNodes - 1) / span;
    for (int i = 0; i < Refrigerant::kRootNodes; ++i) {
      const double root = r.root_low_ + i / r.root_scale_;
      r.by_root_[static_cast<std::size_t>(i)] = saturation(root * root);
    }
    for (int i = 0; i < Refrigerant::kRootNodes; ++i) {
      const int a = i > 0 ? i - 1 : 0;
      const int b = i < Refrigerant::kRootNodes - 1 ? i + 1 : i;
      const double low = r.root_low_ + a / r.root_scale_;
      const double high = r.root_low_ + b / r.root_scale_;
      r.by_root_[static_cast<std::size_t>(i)].mean_slope_k_pa =
          (r.by_root_[static_cast<std::size_t>(b)].mean_k() -
           r.by_root_[static_cast<std::size_t>(a)].mean_k()) /
          (high * high - low * low);
    }
    r.density_scale_ = (Refrigerant::kDensityNodes - 1) / rows.back().vapour_kg_m3;
    for (int i = 0; i < Refrigerant::kDensityNodes; ++i) {
      const double density = i / r.density_scale_;
      const double node = node_of(&Row::vapour_kg_m3, density);
      r.by_density_[static_cast<std::size_t>(i)] =
          node == 0.0 ? density / rows[0].vapour_kg_m3 * rows[0].dew_pa : mix(&Row::dew_pa, node);
    }
    for (int n = 0; n < kNodes; ++n) {
      const Row& row = rows[static_cast<std::size_t>(n)];
      r.by_temperature_[static_cast<std::size_t>(n)] = {row.bubble_pa, row.dew_pa, row.liquid_kg_m3,
                                                        row.liquid_j_kg, row.vapour_j_kg};
    }
  }

  // Isentropic work from gas 25 K above dew; other superheats scale it by p / rho.
  // K. How far above its dew point vapour has risen by so much entropy, J/(kg·K): by halving 0 to
  // 400 K sixty times. The halvings that a secant's root decides without a doubt are not tried: the
  // same bits, for a third of the work.
  double superheat_for(const Saturation& at, double wanted) const {
    const auto rise = [&](double above_k) {
      return superheated(at.dew_k, at.compressibility, above_k).j_kg_k;
    };
    constexpr double kMost = 400.0;
    // K. Rounding moves the root by less than 1e-12 K.
    constexpr double kDoubt = 1e-10;
    double before = 0.0, before_rise = rise(before), root = 40.0, root_rise = rise(root);
    for (int i = 0; i < 12; ++i) {
      const double slope = (root_rise - before_rise) / (root - before);
      const double next = root + (wanted - root_rise) / slope;
      if (!(next > 0.0 && next < kMost)) break;
      const double moved = next - root;
      before = root;
      before_rise = root_rise;
      root = next;
      root_rise = rise(root);
      if (moved < kDoubt / 4 && moved > -kDoubt / 4) break;
    }
    double under = root - kDoubt, over = root + kDoubt;
    if (!(rise(under) < wanted)) under = 0.0;
    if (!(rise(over) >= wanted)) over = kMost;
    double low = 0.0, high = kMost;
    for (int i = 0; i < 60; ++i) {
      const double middle = 0.5 * (low + high);
      const bool short_of = middle <= under || (middle < over && rise(middle) < wanted);
      (short_of ? low : high) = middle;
    }
    return low;
  }

  void fill_work() {
    Refrigerant& r = *out;
    constexpr int kN = Refrigerant::kWorkNodes;
    r.work_scale_ = (kN - 1) / (std::sqrt(r.highest_pa_) - r.root_low_);
    std::array<Saturation, kN> at;
    std::array<double, kN> pa, s;
    for (int i = 0; i < kN; ++i) {
      const auto n = static_cast<std::size_t>(i);
      const double root = r.root_low_ + i / r.work_scale_;
      pa[n] = root * root;
      at[n] = saturation(pa[n]);
      s[n] = mix(entropy, node_of(&Row::dew_pa, pa[n]));
      // Under the coldest node: an ideal gas at that temperature.
      if (pa[n] < rows[0].dew_pa) {
        s[n] += kGas / gas.kg_mol * log_series(rows[0].dew_pa / pa[n]);
      }
    }
    for (std::size_t row = 0; row < kN; ++row) {
      for (std::size_t column = 0; column < kN; ++column) {
        double factor = 0.0;
        if (row > column) {
          const Rise suction = superheated(at[column].dew_k, at[column].compressibility, 25.0);
          const double wanted = s[column] + suction.j_kg_k - s[row];
          const double low = superheat_for(at[row], wanted);
          const double work = at[row].vapour_j_kg +
                              superheated(at[row].dew_k, at[row].compressibility, low).j_kg -
                              at[column].vapour_j_kg - suction.j_kg;
          factor = work * Refrigerant::vapour_kg_m3(at[column], 25.0) / pa[column];
        }
        r.work_[row * kN + column] = factor > 0.0 ? factor : 0.0;
      }
    }
  }
};

Result<RefrigerantPtr> load_refrigerant(std::string_view table, std::string_view correlations,
                                        std::string_view name) {
  const GasRow* gas = nullptr;
  for (const GasRow& row : kGases) {
    if (row.name == name) gas = &row;
  }
  if (gas == nullptr) {
    return Failure(say("unknown refrigerant '{name}'", {{"name", Name{name.substr(0, 40)}}}));
  }
  std::vector<Row> rows;
  if (Message error = read_table(table, rows); !error.empty()) return Failure(std::move(error));
  Correlations fit;
  if (Message error = read_correlations(correlations, name, fit); !error.empty())
    return Failure(std::move(error));
  RefrigerantBuilder builder{*gas, fit};
  builder.set_name(name);
  builder.fill_rows(rows);
  builder.fill_by_pressure();
  builder.fill_work();
  return RefrigerantPtr(builder.out);
}

std::string table_file_name(std::string_view name) {
  std::string file = "sat-";
  for (const char c : name) {
    if (c == '-') continue;
    file += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  return file + ".csv";
}

std::vector<std::string_view> refrigerant_names() {
  std::vector<std::string_view> names;
  for (const GasRow& row : kGases) names.push_back(row.name);
  return names;
}

}  // namespace legwork::plant
