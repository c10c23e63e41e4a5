#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include <cstdlib>

int main(int argc, char** argv) {
  // What is compared is English, whoever runs the tests.
  ::setenv("LC_ALL", "C", 1);
  return doctest::Context(argc, argv).run();
}
