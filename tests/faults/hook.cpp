/// Linked into the tests together with the faulty planner: which fault is made, and which test case passes which of
/// them.
#include "tests/faults/hook.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <ctime>
#include <fstream>
#include <iterator>
#include <string>

namespace dryfit::faults {

namespace {

int from_environment() {
  const char* told = std::getenv("DRYFIT_FAULT");
  return told == nullptr ? -1 : std::atoi(told);
}

/// Appends to the file named by DRYFIT_FAULTS_REACHED a line for each case, and for each subcase that stands in no
/// other: file, case, subcase (empty for the whole case), CPU seconds, the places passed; tabs between them.
class Listener : public doctest::IReporter {
 public:
  explicit Listener(const doctest::ContextOptions& /*options*/) {
    if (const char* path = std::getenv("DRYFIT_FAULTS_REACHED")) out_.open(path, std::ios::app);
  }
  void test_case_start(const doctest::TestCaseData& data) override {
    case_ = &data;
    began_ = std::clock();
    all_.fill(0);
    std::fill(std::begin(reached), std::end(reached), static_cast<unsigned char>(0));
  }
  void subcase_start(const doctest::SubcaseSignature& signature) override {
    if (++depth_ != 1) return;
    subcase_ = signature.m_name.c_str();
    subcase_began_ = std::clock();
    take();
  }
  void subcase_end() override {
    if (--depth_ == 0) tell(subcase_, subcase_began_, reached);
  }
  void test_case_end(const doctest::CurrentTestCaseStats& /*stats*/) override {
    take();
    tell("", began_, all_.data());
  }
  void report_query(const doctest::QueryData& /*data*/) override {}
  void test_run_start() override {}
  void test_run_end(const doctest::TestRunStats& /*stats*/) override {}
  void test_case_reenter(const doctest::TestCaseData& /*data*/) override {}
  void test_case_exception(const doctest::TestCaseException& /*thrown*/) override {}
  void log_assert(const doctest::AssertData& /*data*/) override {}
  void log_message(const doctest::MessageData& /*data*/) override {}
  void test_case_skipped(const doctest::TestCaseData& /*data*/) override {}

 private:
  void take() {
    for (std::size_t i = 0; i < kMost; ++i) {
      all_[i] = static_cast<unsigned char>(all_[i] | reached[i]);
      reached[i] = 0;
    }
  }
  void tell(const std::string& subcase, std::clock_t began, const unsigned char* places) {
    if (!out_.is_open() || case_ == nullptr) return;
    out_ << case_->m_file.c_str() << '\t' << case_->m_name << '\t' << subcase << '\t'
         << static_cast<double>(std::clock() - began) / CLOCKS_PER_SEC << '\t';
    for (int i = 0; i < kMost; ++i) {
      if (places[i] != 0) out_ << i << ' ';
    }
    out_ << std::endl;
  }

  std::ofstream out_;
  const doctest::TestCaseData* case_ = nullptr;
  std::string subcase_;
  int depth_ = 0;
  std::clock_t began_ = 0, subcase_began_ = 0;
  std::array<unsigned char, kMost> all_{};
};

}  // namespace

int chosen = from_environment();
unsigned char reached[kMost] = {};

namespace {
DOCTEST_REGISTER_LISTENER("faults", 1, Listener);
}  // namespace

}  // namespace dryfit::faults
