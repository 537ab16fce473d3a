#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "fuzz/entry.h"

namespace weighwright::fuzz {
namespace {

/// Runs a target on every file of a kept corpus; returns how many there were.
template <class Target>
int replay(const std::string& folder, Target target) {
  int count = 0;
  const std::filesystem::path root =
      std::filesystem::path(WEIGHWRIGHT_SOURCE_DIR) / "tests/fuzz/corpus";
  for (const auto& entry : std::filesystem::directory_iterator(root / folder)) {
    std::ifstream file(entry.path(), std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    SCOPED_TRACE(entry.path().string());
    target(bytes);
    ++count;
  }
  return count;
}

TEST(FuzzCorpus, OfDeckFilesIsReadWithoutHarm) {
  EXPECT_GE(replay("deck", read_deck), 5);
}
TEST(FuzzCorpus, OfCsvFilesIsReadWithoutHarm) {
  EXPECT_GE(replay("csv", read_csv), 5);
}
TEST(FuzzCorpus, OfJournalsIsReadWithoutHarm) {
  EXPECT_GE(replay("journal", read_journal), 5);
}
TEST(FuzzCorpus, OfImportsIsReadWithoutHarm) {
  EXPECT_GE(replay("import", read_import), 5);
}
TEST(FuzzCorpus, OfWeightLinesIsReadWithoutHarm) {
  EXPECT_GE(replay("weight_line", read_weight_line), 5);
}
TEST(FuzzCorpus, OfModbusAnswersIsReadWithoutHarm) {
  EXPECT_GE(replay("modbus_value", read_modbus_value), 5);
}
TEST(FuzzCorpus, OfHttpBodiesIsReadWithoutHarm) {
  EXPECT_GE(replay("http_body", read_http_body), 5);
}
TEST(FuzzCorpus, OfRulebooksIsReadWithoutHarm) {
  EXPECT_GE(replay("rulebook", read_rulebook), 5);
}
TEST(FuzzCorpus, OfQuantitiesIsReadWithoutHarm) {
  EXPECT_GE(replay("quantity", read_quantity), 5);
}

}  // namespace
}  // namespace weighwright::fuzz
