#include "model/placing/reader.hpp"

#include <stdexcept>

#include "model/measure/verify.hpp"
#include "model/placing/first_ways.hpp"
#include "model/placing/natural_order.hpp"
#include "model/placing/place.hpp"
#include "model/placing/tell_more.hpp"
#include "model/reading/read_draft.hpp"
#include "model/reading/yaml_guard.hpp"

namespace dryfit::model {

Frame read_frame(std::string_view text, const std::string& file) {
  Faults faults;
  const YamlTree tree = read_yaml(text, file, faults);
  const Draft as_written = read_draft(*tree.root, faults);
  const Draft draft = in_natural_order(as_written);
  Faults in_order = faults;
  Assembly assembly = assemble(draft, file, in_order);
  // Of two claims to one port the later line is the mistake, so mistakes are looked for as the file is written.
  if (in_order.any()) (void)assemble(as_written, file, faults);
  if (faults.any()) tell_more(as_written, file, faults);
  faults.throw_if_any(file);
  Faults first = faults;
  place(assembly, {}, first);
  if (first.any() || !all_ways_agree(assembly.frame)) {
    // Which way is taken decides what overlaps: that is to be the frame's own affair, not one of left and right.
    Assembly again = assemble(draft, file, in_order);
    place(again, ranks_of_runs(draft), faults);
    faults.throw_if_any(file);
    assembly.frame = std::move(again.frame);
  }
  const std::vector<std::string> broken = verify(assembly.frame);
  if (!broken.empty()) throw std::logic_error("frame read from " + file + " is broken: " + broken.front());
  return std::move(assembly.frame);
}

}  // namespace dryfit::model
