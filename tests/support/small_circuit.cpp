#include "tests/support/small_circuit.h"

#include <cstdio>
#include <cstdlib>

namespace legwork::test {
namespace {

std::vector<std::string> split(std::string_view text, char separator) {
  std::vector<std::string> parts;
  while (true) {
    const std::size_t end = text.find(separator);
    std::string_view one = text.substr(0, end);
    while (!one.empty() && one.front() == ' ') one.remove_prefix(1);
    while (!one.empty() && one.back() == ' ') one.remove_suffix(1);
    parts.emplace_back(one);
    if (end == std::string_view::npos) return parts;
    text = text.substr(end + 1);
  }
}

bool is_list(std::string_view kind, std::string_view key) {
  const circuit::Kind* row = circuit::find_kind(kind);
  if (row == nullptr) return false;
  for (const circuit::ParamSpec& spec : row->params)
    if (spec.key == key)
      return spec.type == circuit::ParamSpec::Type::text_list ||
             spec.type == circuit::ParamSpec::Type::quantity_list;
  return false;
}

}  // namespace

SmallCircuit::SmallCircuit(circuit::SupplySpec supply)
    : builder_(Source("small.yaml", std::string(200, '\n')), found_) {
  builder_.supply(supply, Mark{line_++, 1});
}

SmallCircuit& SmallCircuit::device(std::string_view name, std::string_view kind,
                                   std::vector<Setting> settings) {
  std::vector<circuit::Value> values;
  for (const Setting& setting : settings) {
    circuit::Value value;
    value.key = setting.first;
    value.mark = Mark{line_, 1};
    if (const double* number = std::get_if<double>(&setting.second)) value.number = *number;
    if (const int* number = std::get_if<int>(&setting.second)) value.number = *number;
    if (is_list(kind, value.key)) value.numbers = {value.number};
    if (const char* const* text = std::get_if<const char*>(&setting.second)) {
      value.text = *text;
      if (is_list(kind, value.key)) {
        value.numbers.clear();
        value.words = split(*text, '|');
      }
    }
    values.push_back(std::move(value));
  }
  builder_.add_device(name, kind, std::move(values), Mark{line_++, 1});
  return *this;
}

SmallCircuit& SmallCircuit::rung(std::string_view items) {
  circuit::Rung rung;
  const Mark mark{line_++, 1};
  for (const std::string& item : split(items, ',')) {
    const std::vector<std::string> parallel = split(item, '/');
    if (parallel.size() == 1) {
      rung.push_back({item, mark, {}});
      continue;
    }
    std::vector<circuit::Rung> branches;
    for (const std::string& one : parallel) branches.push_back({{one, mark, {}}});
    rung.push_back(circuit::any_of(std::move(branches), mark));
  }
  builder_.add_rung(rung, mark);
  return *this;
}

SmallCircuit& SmallCircuit::wires(std::string_view from, std::string_view to,
                                  circuit::WireSpec spec) {
  builder_.wire_rule({std::string(from), std::string(to), std::move(spec), Mark{line_++, 1}});
  return *this;
}

circuit::Circuit SmallCircuit::build_anyway() { return builder_.build(); }

circuit::Circuit SmallCircuit::build() {
  circuit::Circuit circuit = builder_.build();
  if (found_.has_errors()) {
    std::fprintf(stderr, "%s", found_.text().c_str());
    std::abort();
  }
  return circuit;
}

}  // namespace legwork::test
