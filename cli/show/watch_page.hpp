#pragma once
/// The page of `show --watch -o FILE.html`: the picture with the verdict above it. It reads itself again every second,
/// also from a folder of the disk, so that a browser beside the editor keeps up.
#include <string>
#include <vector>

namespace dryfit::cli {

struct WatchPage {
  std::string name;                 ///< of the frame
  std::string line;                 ///< the verdict with its time
  bool good = false;                ///< the verdict is a yes
  std::vector<std::string> faults;  ///< file:line:column and text each
  std::string svg;                  ///< the last good picture; "": none yet
};

[[nodiscard]] std::string watch_page(const WatchPage& page);

}  // namespace dryfit::cli
