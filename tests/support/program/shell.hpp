#pragma once
/// What other programs say of the files that dryfit makes.
#include <string>

namespace dryfit::tests {

/// The program that was built with these tests.
inline const std::string kProgram = DRYFIT_PROGRAM;

/// Exit code of a shell's command line; 128 + n when the shell was ended by signal n.
[[nodiscard]] int exit_code_of(const std::string& line);

/// Standard output of a shell's command line. Fails the test when no shell can be started.
[[nodiscard]] std::string output_of(const std::string& line);

/// The words of a PDF as poppler's pdftotext reads them, in the order in which they were drawn.
[[nodiscard]] std::string text_of_pdf(const std::string& path);

/// Without blanks and line ends, which do not count in a PDF: lines break where a card ends, also inside of "4-3/4".
[[nodiscard]] std::string without_blanks(std::string text);

}  // namespace dryfit::tests
