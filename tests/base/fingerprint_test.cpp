#include "engine/base/fingerprint.h"

#include <gtest/gtest.h>

#include <set>

namespace legwork {
namespace {

// FIPS 180-4 example messages, as published by NIST, and the million-a message.
TEST(Sha256, PublishedExamples) {
  EXPECT_EQ(sha256_hex(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  EXPECT_EQ(sha256_hex("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256_hex(std::string(1000000, 'a')),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST(Fingerprint, TellsApart) {
  std::set<std::uint64_t> seen;
  for (int i = -500; i < 500; ++i) seen.insert(Fingerprint().add(i).value());
  EXPECT_EQ(seen.size(), 1000u);
  // Where one text ends and the next begins is part of it.
  EXPECT_NE(Fingerprint().add("ab").add("c").value(), Fingerprint().add("a").add("bc").value());
  EXPECT_NE(Fingerprint().add(1).add(2).value(), Fingerprint().add(2).add(1).value());
}

// Held as numbers, so that no compiler or machine may change what stands in a shift log.
TEST(Fingerprint, StaysTheSame) {
  const std::string hex = Fingerprint().add(42).add("CC").add(true).hex();
  EXPECT_EQ(hex, "ca283ee5b848a072");
}

}  // namespace
}  // namespace legwork
