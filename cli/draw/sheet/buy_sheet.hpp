#pragma once
/// The list of what to buy on paper, to take along and tick off.
#include <string>
#include <vector>

#include "cli/draw/sheet/board_sheet.hpp"
#include "cli/sentences/buy_text.hpp"

namespace dryfit::cli {

/// All that the page says.
struct BuySheet {
  std::string name;     ///< of the frame
  std::string summary;  ///< "28 lb (13 kg) in all"
  std::vector<BuySection> sections;
  std::vector<std::string> remarks;
};

/// All pages: a table per section with a box to tick, the count, what it is and what it is for; as many
/// pages as it takes, black on white. Throws DrawError when it cannot be made.
[[nodiscard]] std::vector<std::string> buy_pages(const BuySheet& sheet, PaperSize paper,
                                                 PictureFormat format = PictureFormat::pdf);

}  // namespace dryfit::cli
