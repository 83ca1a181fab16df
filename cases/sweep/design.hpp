#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cases/read/read_case.hpp"
#include "solver/run/section_of_heater.hpp"

namespace cw::cases {

/// Outcome of a design.
enum class DesignStatus {
  solved,
  invalid,   ///< the values are not possible together: the checks say why
  failed,    ///< valid, but no solution was found
  crashed,   ///< its process ended; a later run tries it again
  set_aside  ///< its heating run was given up: others are better
};

/// "solved", "invalid", "failed", "crashed", "set aside".
const char* word(DesignStatus status);
DesignStatus status_of(const std::string& word);

/// The answer to one design.
struct DesignOutcome {
  DesignStatus status = DesignStatus::crashed;
  std::string reason;  ///< empty when solved
  std::string result;  ///< JSON of result.json without what is common to all designs; empty unless
                       ///< solved
  double mesh_s = 0.0, solve_s = 0.0, total_s = 0.0;  ///< wall clock
};

/// How designs are solved: each from its own mesh, or with data that designs share.
enum class SweepMethod { plain, fast };
const char* word(SweepMethod method);
SweepMethod method_of(const std::string& word);
const char* word(Effort effort);
Effort effort_of(const std::string& word);

/// How a design is to be solved.
struct DesignMeans {
  SweepMethod method = SweepMethod::plain;
  bool heating = false;                ///< its heating run too, not only its states
  std::optional<Effort> effort = {};   ///< other than that of the sweep
  std::optional<double> give_up = {};  ///< time after which the heating run is given up [s]
};

/// A row of the store.
struct DesignRow {
  std::string id;     ///< SHA-256 of study, changes, files, method, accuracy and program_form()
  std::string study;  ///< SHA-256 of the case without its sweep; see study_of()
  std::vector<Change> changes;
  std::string case_sha256;
  std::string version, method, accuracy;
  bool heating = false;                ///< to be solved with its heating run; not kept in the store
  std::optional<double> give_up = {};  ///< as in DesignMeans; not kept in the store
  NamedFiles files;  ///< on which it may depend, when planned; not kept in the store
  DesignOutcome outcome;
};

/// Identifies a case independently of its layout: its keys and values without title and [sweep],
/// and the bytes of its material files. 64 hexadecimal digits.
std::string study_of(const CaseText& subject);

/// "coil.turns = 8, coil.pitch = 7 mm".
std::string spoken(const std::vector<Change>& changes);

}  // namespace cw::cases
