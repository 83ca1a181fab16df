#include "cases/design/coil_rank.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <mutex>

#include "cases/read/assume_parts.hpp"
#include "materials/usual_parts.hpp"
#include "solver/heater/rings.hpp"
#include "solver/run/in_parallel.hpp"

namespace cw::cases {

namespace {

constexpr double within_limits = 0.95;  ///< of a limit, by a promise
constexpr double with_room = 0.92;      ///< of the time allowed, by a promise

std::vector<double> key_of(const Choice& c) {
  return {c.turns, c.bore, c.pitch, c.shift};
}

Choice not_moved(Choice choice) {
  choice.shift = 0.0;
  return choice;
}

Coil wound(Coil coil, const Choice& choice) {
  if (coil.gap) *coil.gap += choice.pitch - coil.pitch;
  coil.turns = choice.turns;
  coil.bore = choice.bore;
  coil.pitch = choice.pitch;
  return coil;
}

}  // namespace

CoilRank::CoilRank(const ShelfCase& shelf, KnownCoils& known, const DesignSearchOptions& options)
    : shelf_(shelf),
      known_(known),
      options_(options),
      bounds_(choice_bounds(shelf)),
      base_(chosen_case(shelf, not_moved(shelf.first))),
      heating_(base_) {}

TankCircuit CoilRank::circuit_of(const Choice& choice) const {
  const Case& own = shelf_.subject;
  Heater heater = static_cast<const Heater&>(base_);
  if (shelf_.bank_free) heater.tank = bank_of(*own.tank, shelf_.cans, choice);
  auto& drive = std::get<PushPullDrive>(heater.drive);
  if (!own.where.at.contains("drive.choke")) {
    drive.choke.inductance = usual_choke(wound(own.coil, choice));
    drive.choke.resistance = usual_choke_resistance(drive.choke.inductance);
  }
  return tank_circuit(heater);
}

void CoilRank::look_at(const std::vector<Choice>& coils, const std::string& stage) {
  std::vector<Choice> fresh;
  for (const Choice& coil : coils) {
    if (std::ranges::any_of(coils_, [&](const Choice& c) { return key_of(c) == key_of(coil); }))
      continue;
    coils_.push_back(coil);
    if (!known_.contains(key_of(coil))) fresh.push_back(coil);
  }
  std::vector<std::optional<Case>> cases(fresh.size());
  for (std::size_t k = 0; k < fresh.size(); ++k) {
    try {
      Case subject = chosen_case(shelf_, fresh[k]);
      if (passes_checks(subject)) cases[k] = std::move(subject);
    } catch (const CaseError&) {  // NOLINT(bugprone-empty-catch): it cannot be built
    }
  }
  std::vector<std::optional<CoilKernel>> kernels(fresh.size());
  std::mutex counting;
  int done = 0;
  in_parallel(fresh.size(), [&](std::size_t k) {
    {
      const std::lock_guard lock(counting);
      if (options_.progress) options_.progress(stage, done, static_cast<int>(fresh.size()));
      ++done;
    }
    if (!cases[k]) return;
    Choice middle = fresh[k];
    middle.in_series = 1;
    if (shelf_.bank_free) middle.strings = std::max(1, shelf_.cans / 3);
    const TankCircuit circuit = circuit_of(middle);
    try {
      kernels[k] =
          coil_kernel(*cases[k], kernel_temperature(*cases[k]),
                      unloaded_point(circuit, 0.9 * rough_inductance(cases[k]->coil)).frequency);
    } catch (const std::bad_alloc&) {
      throw;
    } catch (const std::exception&) {  // NOLINT(bugprone-empty-catch): cannot be solved
    }
  });
  for (std::size_t k = 0; k < fresh.size(); ++k) known_[key_of(fresh[k])] = kernels[k];
  if (!reference_) return;
  std::vector<Choice> wired;
  for (const Choice& coil : coils)
    if (known_.at(key_of(coil)))
      for (const Choice& choice : wirings(shelf_, coil)) wired.push_back(choice);
  add(wired);
}

void CoilRank::look_at_banks(DesignKind kind, std::size_t most) {
  std::vector<Choice> wired;
  for (const Candidature& c : best(kind)) {
    if (most-- == 0) break;
    for (const Choice& choice : all_wirings(shelf_, c.choice)) wired.push_back(choice);
  }
  add(wired);
}

void CoilRank::sharpen(DesignKind kind) {
  Choice at;
  if (all_.empty()) {
    std::vector<Choice> solved;
    for (const Choice& c : coils_)
      if (known_.at(key_of(c))) solved.push_back(c);
    if (solved.empty()) return;
    std::ranges::stable_sort(solved, {}, &Choice::turns);
    at = solved[solved.size() / 2];
    if (shelf_.bank_free) at.strings = (shelf_.cans + 1) / 2;
  } else {
    at = best(kind).front().choice;
  }
  const Case subject = chosen_case(shelf_, at);
  reference_ = work_reference(subject, circuit_of(at), *known_.at(key_of(at)),
                              temperatures_to_solve(subject));
  if (all_.empty())
    look_at(coils_, "");
  else
    judge(all_);
}

void CoilRank::add(const std::vector<Choice>& choices) {
  std::vector<Candidature> fresh;
  for (const Choice& choice : choices) {
    if (!judged_.insert(choice).second) continue;
    Candidature& c = fresh.emplace_back();
    c.choice = choice;
    c.tube = tube_needed(shelf_, choice);
  }
  judge(fresh);
  std::ranges::move(fresh, std::back_inserter(all_));
}

void CoilRank::judge(std::vector<Candidature>& all) const {
  const double longest = 1.6 * *base_.heat->until;
  in_parallel(all.size(), [&](std::size_t k) {
    const Choice& choice = all[k].choice;
    all[k].promise =
        heating_.promise(circuit_of(choice), wound(shelf_.subject.coil, choice),
                         *known_.at(key_of(choice)), *reference_, {choice.shift, longest});
  });
}

std::optional<double> CoilRank::time_of(const Candidature& c) const {
  if (!c.promise.time) return std::nullopt;
  return *c.promise.time * seen_.slower;
}

double CoilRank::share_of_limit(const Candidature& c) const {
  double most = 0.0;
  for (const auto& [limit, share] : c.promise.shares) {
    const auto seen = seen_.harder.find(limit);
    most = std::max(most, share * (seen == seen_.harder.end() ? 1.0 : seen->second));
  }
  return most;
}

const Candidature* CoilRank::find(const Choice& choice) const {
  const auto found = std::ranges::find(all_, choice, &Candidature::choice);
  return found == all_.end() ? nullptr : &*found;
}

bool CoilRank::does_it(const Candidature& c) const {
  const auto time = time_of(c);
  return c.promise.rings && time && share_of_limit(c) <= within_limits &&
         *time <= *base_.heat->until;
}

double CoilRank::badness(const Candidature& c, DesignKind kind) const {
  constexpr double not_within = 1e6, not_hot = 1e9;
  const double until = *base_.heat->until;
  if (!c.promise.rings) return 1e12;
  // As bad as to be so much colder [K]: a part past its limit.
  constexpr double past_limit = 500.0;
  if (!c.promise.time)
    return not_hot - c.promise.end.kelvin +
           past_limit * std::max(0.0, share_of_limit(c) - within_limits);
  const double time = *time_of(c), share = share_of_limit(c);
  if (share > within_limits) return not_within * (1 + share) + time;
  if (time > until) return not_within + time;
  switch (kind) {
    case DesignKind::quickest:
      return time;
    case DesignKind::coolest_supply:
      return time > with_room * until ? not_within / 2 + time : c.promise.supply_power;
    case DesignKind::least_copper:
      break;
  }
  return time > with_room * until ? not_within / 2 + time : c.tube + 1e-4 * time;
}

std::vector<Candidature> CoilRank::best(DesignKind kind) const {
  std::map<std::vector<double>, std::pair<double, const Candidature*>> of_coil;
  for (const Candidature& c : all_) {
    const double bad = badness(c, kind);
    const auto [place, fresh] = of_coil.try_emplace(key_of(c.choice), bad, &c);
    if (!fresh && bad < place->second.first) place->second = {bad, &c};
  }
  std::vector<std::pair<double, const Candidature*>> sorted;
  sorted.reserve(of_coil.size());
  for (const auto& [key, entry] : of_coil) sorted.push_back(entry);
  std::ranges::stable_sort(sorted, {}, &std::pair<double, const Candidature*>::first);
  std::vector<Candidature> result;
  result.reserve(sorted.size());
  for (const auto& [bad, c] : sorted) result.push_back(*c);
  return result;
}

}  // namespace cw::cases
