#pragma once
// One way to fail: a value, or why there is none.
//
//   Result<double> span = parse_quantity("10 min", Dimension::time);
//   if (!span) return span.failure();               // handed on, whatever the caller's value is
//   run(*span);
//   found.error(source, mark, span.failure());      // at the edge: one finding among others
//
// A Failure is a sentence with its hint, and a place where the text that failed has one. Code that
// goes on after a mistake, to find all of them, notes Diagnostics (diagnostics.h) and returns an
// optional; everything else that can fail returns a Result.

#include <cassert>
#include <compare>
#include <utility>
#include <variant>

#include "engine/base/message.h"

namespace legwork {

// A place in a file. Kept by whatever was read from there, so that later checks can point to it.
struct Mark {
  int line = 0;    // 0: no place known
  int column = 0;  // in characters

  bool known() const { return line > 0; }
  friend auto operator<=>(const Mark&, const Mark&) = default;
};

struct Failure {
  Message what;  // without a full stop: "unknown unit 'psgi' for a pressure"
  Message hint;  // "did you mean 'psig'?"; may be empty
  Mark mark;     // in the text that was read, if it has a place

  Failure(Message sentence, Message how_to_mend = {}, Mark place = {})
      : what(std::move(sentence)), hint(std::move(how_to_mend)), mark(place) {}
  // "unknown unit 'psgi' for a pressure; did you mean 'psig'?"
  Message sentence() const;
};

template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : outcome_(std::move(value)) {}
  Result(Failure failure) : outcome_(std::move(failure)) {}

  explicit operator bool() const { return outcome_.index() == 0; }
  const T& operator*() const& { return *get(); }
  T& operator*() & { return const_cast<T&>(*get()); }
  T&& operator*() && { return std::move(const_cast<T&>(*get())); }
  const T* operator->() const { return get(); }
  T* operator->() { return const_cast<T*>(get()); }
  T value_or(T other) const { return *this ? *get() : std::move(other); }
  const Failure& failure() const {
    assert(!*this && "it did not fail");
    return *std::get_if<1>(&outcome_);
  }

 private:
  const T* get() const {
    assert(*this && "asked for the value of a failure");
    return std::get_if<0>(&outcome_);
  }
  std::variant<T, Failure> outcome_;
};

}  // namespace legwork
