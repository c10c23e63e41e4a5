#include "model/text/meant.hpp"

#include <algorithm>
#include <array>

#include "model/text/nearest.hpp"

namespace dryfit::model {
namespace {

/// A word of the format and what else it is called, in lower case, two words joined by '-', without a plural's s. A
/// name may stand in several rows: what the place allows decides.
struct OtherNames {
  std::string_view word;
  std::string_view names;  ///< between blanks, one before the first and one behind the last
};

constexpr std::array kOtherNames = {
    // Kinds of parts.
    OtherNames{"pipe", " nipple tube tubing rod stick length rohr doppelnippel rohrnippel nippel "},
    OtherNames{"coupling", " socket sleeve connector joiner muffe doppelmuffe "},
    OtherNames{"elbow", " ell el 90 elbow90 elbow-90 bend corner winkel bogen "},
    OtherNames{"elbow45", " 45 elbow-45 45-elbow bend45 "},
    OtherNames{"street-elbow", " street street-ell street-el "},
    OtherNames{"tee", " t t-piece branch t-stück "},
    OtherNames{"cross", " x four-way 4-way kreuz "},
    OtherNames{"side-elbow", " three-way 3-way side-outlet-elbow corner winkelverteiler "},
    OtherNames{"side-tee", " side-outlet-tee t-verteiler "},
    OtherNames{"cap", " end-cap endcap kappe "},
    OtherNames{"plug", " stopper stopfen "},
    OtherNames{"bushing", " reducer reducing-bushing bush reduzierung reduziernippel "},
    OtherNames{"flange", " base floor-flange wall-flange plate base-plate flansch "},
    OtherNames{"union", " verschraubung "},
    OtherNames{"foot", " feet glide leveler leveller leveling-foot levelling-foot leg pad fuß fuss füße "},
    OtherNames{"caster", " castor wheel roller rolle lenkrolle "},
    OtherNames{"mass", " weight kg lb gewicht masse "},
    // Keys of a board.
    OtherNames{"fix", " screw screwed fasten fastened attach attached mount mounted anchor fixed wall "},
    OtherNames{"through", " pipe pole post drill drilled "},
    OtherNames{"rests-on",
               " on rest-on rest sit-on sits-on lie-on lies-on lay-on carried-by carrier support supported-by "},
    OtherNames{"notch", " slot slotted cutout cut-out "},
    OtherNames{"stock", " material wood specie timber "},
    OtherNames{"size", " thickness width depth dimension extent thick wide deep "},
    OtherNames{"strap", " clamp u-bolt saddle "},
    OtherNames{"reach", " overhang offset edge margin "},
    OtherNames{"hole", " bit diameter bore hole-size "},
    OtherNames{"facing", " face side normal "},
    OtherNames{"height", " z level elevation underside "},
    // Keys of a run and of parts.
    OtherNames{"from", " start begin origin "},
    OtherNames{"to", " end till until "},
    OtherNames{"go", " direction dir heading walk along way "},
    OtherNames{"at", " position pos place where location corner xy coordinate "},
    OtherNames{"parts", " item piece list part "},
    OtherNames{"to-size", " size2 size-to reduce-to outlet-size second-size "},
    OtherNames{"branch-size", " outlet-size "},
    OtherNames{"plain", " unthreaded no-thread cut "},
    OtherNames{"side", " outlet side-outlet "},
    OtherNames{"measured", " measure dimension own "},
    OtherNames{"centre-to-end", " center-to-end centre center take-off takeoff a "},
    OtherNames{"band", " outside-diameter od diameter "},
    OtherNames{"plate", " diameter flange-diameter "},
    // Keys at the top, and their words.
    OtherNames{"units", " unit measure einheit "},
    OtherNames{"pipe", " thread standard size tubes "},
    OtherNames{"boards", " shelve shelf board panel plank "},
    OtherNames{"name", " title "},
    OtherNames{"surfaces", " floor wall ceiling room surface fixed "},
    OtherNames{"make-up", " makeup tight tightness engagement "},
    OtherNames{"driver", " tool screwdriver "},
    OtherNames{"in", " inch inche zoll \" "},
    OtherNames{"mm", " millimeter millimetre metric "},
    OtherNames{"cm", " centimeter centimetre "},
    OtherNames{"npt", " us ansi asme nptf inch "},
    OtherNames{"iso7", " bsp bspt bspp r iso iso-7 iso-7-1 en-10226 metric "},
    OtherNames{"wrench", " tight wrench-tight tightened "},
    OtherNames{"hand", " loose hand-tight "},
    // Directions.
    OtherNames{"up", " top upward oben hoch "},
    OtherNames{"down", " bottom downward unten "},
    OtherNames{"front", " forward toward-me vorn "},
    OtherNames{"back", " rear backward behind hinten "},
    OtherNames{"left", " leftward link "},
    OtherNames{"right", " rightward recht "},
    // Materials.
    OtherNames{"plywood", " ply sperrholz "},
    OtherNames{"particleboard", " chipboard spanplatte "},
    OtherNames{"douglas-fir", " fir douglas "},
    OtherNames{"pine", " softwood kiefer "},
    OtherNames{"oak", " eiche "},
    OtherNames{"beech", " buche "},
};

/// As the table writes it.
std::string as_written_there(std::string_view word) {
  std::string out;
  for (const char c : word) {
    if (c >= 'A' && c <= 'Z') {
      out += static_cast<char>(c - 'A' + 'a');
    } else {
      out += c == '_' || c == ' ' ? '-' : c;
    }
  }
  return out;
}

bool holds(std::string_view names, const std::string& name) {
  return names.find(" " + name + " ") != std::string_view::npos;
}

}  // namespace

std::optional<std::string> meant_by(std::string_view word, const std::vector<std::string>& candidates) {
  constexpr std::size_t kLongestName = 32;
  if (word.empty() || word.size() > kLongestName) return std::nullopt;
  const std::string name = as_written_there(word);
  const std::string single = name.size() > 2 && name.back() == 's' ? name.substr(0, name.size() - 1) : name;
  for (const OtherNames& row : kOtherNames) {
    const auto meant = std::find(candidates.begin(), candidates.end(), row.word);
    if (meant != candidates.end() && *meant != word && (holds(row.names, name) || holds(row.names, single))) {
      return *meant;
    }
  }
  return std::nullopt;
}

Message did_you_mean_one_of(std::string_view word, const std::vector<std::string>& candidates) {
  auto meant = meant_by(word, candidates);
  if (!meant) meant = nearest_word(word, candidates);
  return meant ? message("; did you mean '{}'?", *meant) : Message();
}

}  // namespace dryfit::model
