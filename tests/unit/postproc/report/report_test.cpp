#include "postproc/report/report.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <nlohmann/json.hpp>
#include <utility>

#include "materials/figures.hpp"
#include "postproc/picture/picture.hpp"
#include "postproc/report/policy_hash.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/result/cautions.hpp"
#include "postproc/result/read_result.hpp"
#include "postproc/result/write_result.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

std::vector<cw::ReportPicture> one_picture() {
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = cw::sample::uniform_field(mesh, 0.01);
  cw::PictureInput input{mesh, field, "<b>Bench</b> & check", 100.0};
  input.dimensions = {{cw::DimensionLine::Kind::diameter, "bore", 0.0, 9e-3, 0.0},
                      {cw::DimensionLine::Kind::length, "<i>", -6e-3, 5.5e-3, 0.0}};
  return {{"field", cw::svg_of(cw::field_picture(input))}};
}

void replace_all(std::string& text, const std::string& from, const std::string& to) {
  for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos; at += to.size())
    text.replace(at, from.size(), to);
}

/// What a reader sees outside the style sheet and the drawings, with ASCII units.
std::string words_of(std::string page) {
  for (const char* name : {"style", "svg", "script"}) {
    const std::string open = std::string("<") + name, close = std::string("</") + name + ">";
    for (std::size_t at = 0; (at = page.find(open)) != std::string::npos;)
      page.erase(at, page.find(close, at) + close.size() - at);
  }
  std::string words;
  bool inside = false;
  for (const char c : page) {
    inside = inside || c == '<';
    if (!inside) words += c;
    if (c == '>') {
      inside = false;
      words += '|';
    }
  }
  replace_all(words, "\u00a0", " ");
  replace_all(words, "\u00b5", "u");
  replace_all(words, "\u03a9", "ohm");
  return words;
}

/// Whether the text contains the number by itself, not as part of another.
bool has_number(const std::string& words, const std::string& number) {
  const auto part = [&](std::size_t i) {
    return i < words.size() &&
           (std::isdigit(static_cast<unsigned char>(words[i])) != 0 || words[i] == '.');
  };
  for (std::size_t at = 0; (at = words.find(number, at)) != std::string::npos; ++at) {
    const std::size_t end = at + number.size();
    const bool decimals_follow = end + 1 < words.size() && words[end] == '.' && part(end + 1);
    const bool digit_follows = part(end) && words[end] != '.';
    if ((at == 0 || !part(at - 1)) && !digit_follows && !decimals_follow) return true;
  }
  return false;
}

/// The printed form of the value of a key of result.json; the last word of the key is its unit.
std::string on_paper(const std::string& key, double value) {
  if (key == "coolant_flow_m3_per_s") return cw::figure(6e4 * value) + " L/min";
  const auto ends = [&](const char* unit) { return key.ends_with(unit); };
  for (const char* unit : {"_H", "_ohm", "_W", "_Hz", "_J", "_s", "_var", "_V", "_A"}) {
    if (ends(unit)) return cw::figure(value, unit + 1);
  }
  if (ends("_J") || key == "lost_J") return cw::figure(value, "J");
  if (key == "mass_above_kg") return cw::figure(1e3 * value) + " g";
  if (key == "spread_K") return cw::figure(value) + " K";
  if (key.starts_with("stall_by")) return fmt::format("{:+.0f} K", value);
  if (key == "depth_m") return cw::figure(1e3 * value) + " mm";
  if (ends("_A_per_m")) return cw::figure(value, "A/m");
  if (ends("_T_rms")) return cw::figure(value, "T");
  if (key == "distances_m" || key == "keep_out_m") return cw::figure(value, "m");
  if (key.ends_with("skin_depth_m")) return cw::figure(1e3 * value) + " mm";
  if (key == "conductor_length_m") return cw::figure(value, "m");
  if (key == "bottom_m" || key == "top_m") return cw::millimetres(std::abs(value)) + " mm";
  if (ends("_F")) return cw::figure(value, "F");
  if (ends("_m")) return cw::millimetres(value) + " mm";
  if (ends("_K")) return cw::figure(value - 273.15) + " \u00b0C";
  if (ends("_relative") || key == "efficiency" || key.starts_with("share_") || key == "fraction" ||
      key == "ledger_error" || key == "interpolation_error" || key == "mesh_error")
    return cw::percent(value);
  if (key == "lowest" || key == "mean" || key == "highest")
    return cw::figure(1e-6 * value, "W/cm\u00b3");
  if (key == "loaded_q") return cw::figure(value);
  return cw::figure_short(value);
}

/// Every number below `json`, by the innermost key that has a name.
void expect_numbers(const nlohmann::json& json, const std::string& key, const std::string& words) {
  if (json.is_structured()) {
    for (const auto& [name, value] : json.items()) {
      const bool names_a_body =
          key.starts_with("bodies_W") || key == "lost_J" || key == "spent_J" || json.is_array();
      expect_numbers(value, names_a_body ? key : name, words);
    }
  } else if (json.is_number_integer()) {
    EXPECT_TRUE(has_number(words, json.dump())) << key << " " << json;
  } else if (json.is_number()) {
    const std::string number = on_paper(key, json.get<double>());
    EXPECT_TRUE(has_number(words, number)) << key << " " << number << "\n" << words;
  }
}

std::string tag_name(const std::string& tag) {
  return tag.substr(0, tag.find_first_of(" \n\t/"));
}

/// The page without the code of its scripts; their data, which contain text from outside, stay.
std::string without_code(std::string page) {
  const std::string open = "<script>";
  for (std::size_t at = 0; (at = page.find(open, at)) != std::string::npos; at += open.size())
    page.erase(at + open.size(), page.find("</script>", at) - at - open.size());
  return page;
}

/// The first fault in how elements nest and attributes are quoted; empty when there is none.
std::string nesting_fault(const std::string& whole) {
  const std::string page = without_code(whole);
  std::vector<std::string> open;
  std::size_t at = page.find('>') + 1;  // after the doctype
  while ((at = page.find('<', at)) != std::string::npos) {
    const std::size_t end = page.find('>', at);
    if (end == std::string::npos) return "unfinished tag";
    const std::string tag = page.substr(at + 1, end - at - 1);
    if (tag.find('<') != std::string::npos) return "bare < before " + tag;
    if (std::count(tag.begin(), tag.end(), '"') % 2 != 0) return "open quote in " + tag;
    if (tag[0] == '/') {
      if (open.empty() || open.back() != tag.substr(1)) return "closes " + tag;
      open.pop_back();
    } else if (!tag.ends_with('/')) {
      open.push_back(tag_name(tag));
    }
    at = end + 1;
  }
  return open.empty() ? "" : "never closes " + open.back();
}

/// The first & that begins no reference of ours.
std::string bare_ampersand(const std::string& whole) {
  const std::string page = without_code(whole);
  constexpr std::array<const char*, 5> known = {"&amp;", "&lt;", "&gt;", "&quot;", "&#39;"};
  for (std::size_t at = 0; (at = page.find('&', at)) != std::string::npos; ++at) {
    const bool ours = std::any_of(known.begin(), known.end(), [&](const char* reference) {
      return page.compare(at, std::char_traits<char>::length(reference), reference) == 0;
    });
    if (!ours) return page.substr(at, 20);
  }
  return "";
}

// Property: the page has every number of result.json, rounded as printed; a key that is added to
// the result but not to the page makes this fail.
TEST(Report, ShowsEveryNumber) {
  const cw::Result result = cw::sample::full_result();
  nlohmann::json json = nlohmann::json::parse(cw::result_json(result));
  json.erase("cautions");
  // Limits carry their unit in another key; the second state repeats the first but for its total.
  for (const auto& limit : json["limits"]) EXPECT_TRUE(limit.contains("value"));
  json.erase("limits");
  const std::string words = words_of(cw::report_page(result, {}));
  // The charts show samples of the curve in degC, A and kHz.
  json.erase("demand");
  for (const char* number : {"21.5", "403", "33.7", "47.6", "112", "98.7"})
    EXPECT_TRUE(has_number(words, number)) << number;
  expect_numbers(json, "", words);
  for (const char* number : {"9.53 A", "8.74 A", "109 %", "68.0 \u00b0C"})
    EXPECT_TRUE(has_number(words, number)) << number;
}

// Property: the search above distinguishes a number from a part of another.
TEST(Report, NumberSearchCanFail) {
  EXPECT_TRUE(has_number("|1.23 A|", "1.23 A"));
  EXPECT_TRUE(has_number("in 13.", "13"));
  EXPECT_FALSE(has_number("|21.23 A|", "1.23 A"));
  EXPECT_FALSE(has_number("|13.5|", "13"));
  EXPECT_FALSE(has_number("|135|", "13"));
}

// Property: every caution is in every page in full, even in that of an empty result, and the header
// precedes the first figure of the tables.
TEST(Report, CautionsAreAlwaysThere) {
  for (const cw::Result& result : {cw::Result{}, cw::sample::result(), cw::sample::full_result()}) {
    const std::string page = cw::report_page(result, {});
    for (const auto& caution : cw::cautions(result))
      EXPECT_NE(page.find("<li>" + cw::shown_sentence(caution.text) + "</li>"), std::string::npos)
          << caution.id;
    EXPECT_LT(page.find(cw::escaped(cw::cautions(result).front().text)), page.find("<table"));
  }
}

// Property: warnings and exceeded limits come before the tables, in the verdict.
TEST(Report, VerdictComesFirst) {
  const cw::Result result = cw::sample::full_result();
  const std::string page = cw::report_page(result, {});
  const std::size_t first_table = page.find("<table");
  EXPECT_LT(page.find("<h2 id=\"verdict-h\">"), first_table);
  EXPECT_LT(page.find(result.warnings[0]), first_table);
  EXPECT_LT(page.find("<strong>Stop:</strong> capacitor can"), first_table);
  EXPECT_LT(page.find("No: the temperature settles at"), first_table);
  EXPECT_LT(page.find("10 turns instead of 6"), first_table);
}

// Property: no text from outside becomes markup, anywhere.
TEST(Report, HostileTextStaysText) {
  const std::string evil = "</title><script>alert('x')</script>\" onload=\"y&\x01<!--";
  cw::Result r = cw::sample::full_result();
  r.title = r.case_sha256 = evil;
  r.build = {evil, evil, {evil}};
  r.warnings = {evil};
  r.sources = {{evil, evil, evil}};
  r.heat->history = r.exposure->reference = evil;
  r.limits[0] = {evil, evil + "_A", 1.0, 2.0, 0.5, cw::Verdict::watch, evil, evil};
  for (auto& state : r.states) {
    state.name = state.accuracy.method = evil;
    state.power.bodies = {{evil, 200.0}};
    state.power.density = {{evil, {1.0, 2.0, 3.0}}};
    state.efficiency = 200.0 / 300.0;
  }
  std::vector<cw::ReportPicture> pictures = one_picture();
  pictures[0].name = "field-" + evil;
  const std::string page = cw::report_page(r, pictures);
  EXPECT_EQ(page.find("<script>alert"), std::string::npos);
  EXPECT_EQ(without_code(page).find("<!--"), std::string::npos);
  // Inside the data of a chart a quote follows a backslash and ends nothing.
  for (std::size_t at = 0; (at = page.find("\" onload", at)) != std::string::npos; ++at)
    EXPECT_EQ(page[at - 1], '\\') << page.substr(at - 60, 80);
  EXPECT_EQ(page.find('\x01'), std::string::npos);
  EXPECT_EQ(nesting_fault(page), "");
  EXPECT_EQ(bare_ampersand(page), "");
  EXPECT_NE(page.find("&lt;script&gt;alert(&#39;x&#39;)"), std::string::npos);
}

/// Pointers to all texts of a JSON tree.
void collect_texts(nlohmann::json& json, std::vector<nlohmann::json*>& texts) {
  if (json.is_string()) texts.push_back(&json);
  if (json.is_structured())
    for (auto& item : json) collect_texts(item, texts);
}

// Property: every text a result file may hold, one after the other, is refused or stays text in
// the page.
TEST(Report, NoTextOfAResultFileBecomesMarkup) {
  const std::string evil = "<zz onx=1>&'\"";
  nlohmann::json json = nlohmann::json::parse(cw::result_json(cw::sample::full_result()));
  std::vector<nlohmann::json*> texts;
  collect_texts(json, texts);
  ASSERT_GT(texts.size(), 30U);
  int shown = 0;
  for (nlohmann::json* text : texts) {
    const nlohmann::json kept = std::exchange(*text, evil);
    try {
      const std::string page = cw::report_page(cw::read_result(json.dump(), "a"), {});
      EXPECT_EQ(page.find("<zz"), std::string::npos) << "instead of " << kept;
      shown += page.find("&lt;zz") != std::string::npos ? 1 : 0;
    } catch (const cw::ResultFileError&) {
    }
    *text = kept;
  }
  EXPECT_GT(shown, 10);
}

// Property: the policy names the hashes of the page's script and style sheet, byte for byte, and
// allows no other; no element of the page has its own style or event handler. Source of the form:
// W3C, Content Security Policy Level 3, 2.3.1.
TEST(Report, PolicyNamesItsOwnScriptAndStyleOnly) {
  const std::string page = cw::report_page(cw::sample::full_result(), one_picture());
  for (const std::string name : {"style", "script"}) {
    const std::string open = "<" + name + ">";
    const std::size_t from = page.find(open) + open.size();
    const std::string text = page.substr(from, page.find("</" + name + ">", from) - from);
    EXPECT_NE(page.find(name + "-src '" + cw::policy_hash(text) + "';"), std::string::npos) << name;
    EXPECT_EQ(page.find(open, from), std::string::npos) << "a second " << name;
  }
  EXPECT_EQ(page.find("unsafe-"), std::string::npos);
  EXPECT_EQ(without_code(page).find(" style="), std::string::npos);
  EXPECT_EQ(without_code(page).find(" onload="), std::string::npos);
}

// Property: the hash is SHA-256 in Base64. Source: FIPS 180-4, the example "abc", as NIST prints it
// (ba7816bf ... f20015ad), in Base64 by RFC 4648.
TEST(Report, PolicyHashIsSha256) {
  EXPECT_EQ(cw::policy_hash("abc"), "sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=");
}

// Property: the page nests as XML does and every reference in it is one of ours.
TEST(Report, IsWellFormed) {
  for (const cw::Result& result : {cw::Result{}, cw::sample::result(), cw::sample::full_result()}) {
    const std::string page = cw::report_page(result, one_picture());
    EXPECT_EQ(nesting_fault(page), "");
    EXPECT_EQ(bare_ampersand(page), "");
  }
  EXPECT_EQ(nesting_fault("<!DOCTYPE html><p><b>x</p></b>"), "closes /p");
}

// Property: the page loads nothing from anywhere: every picture is inside, the script is inside,
// and the page forbids itself the rest.
TEST(Report, NeedsNothingFromOutside) {
  const std::string page = without_code(cw::report_page(cw::sample::full_result(), one_picture()));
  for (const char* reference : {"http:", "https:", "src=", "url(", "@import", "<link", "<iframe"})
    EXPECT_EQ(page.find(reference), std::string::npos) << reference;
  for (std::size_t at = 0; (at = page.find("href=\"", at)) != std::string::npos; at += 6) {
    EXPECT_TRUE(page[at + 6] == '#' || page.compare(at + 6, 22, "data:image/png;base64,") == 0)
        << page.substr(at, 60);
  }
  EXPECT_NE(page.find("data:image/png;base64,"), std::string::npos);
  EXPECT_NE(page.find("default-src 'none'"), std::string::npos);
}

// Property: every link in the page has its target, and no name is given twice.
TEST(Report, LinksLeadSomewhere) {
  const std::string page = cw::report_page(cw::sample::full_result(), one_picture());
  int links = 0;
  for (std::size_t at = 0; (at = page.find("href=\"#", at)) != std::string::npos; ++at, ++links) {
    const std::string id = page.substr(at + 7, page.find('"', at + 7) - at - 7);
    const std::size_t target = page.find(" id=\"" + id + "\"");
    EXPECT_NE(target, std::string::npos) << id;
    EXPECT_EQ(page.find(" id=\"" + id + "\"", target + 1), std::string::npos) << id;
  }
  EXPECT_GE(links, 5);
}

// Property: a quantity that one state lacks leaves a dash in its column, not a shifted row.
TEST(Report, StatesStandSideBySide) {
  cw::Result result = cw::sample::full_result();
  result.states[0].name = "empty";
  result.states[0].skin_depth.reset();
  const std::string page = cw::report_page(result, {});
  EXPECT_NE(page.find("<th scope=\"col\">Empty coil</th><th scope=\"col\">Past Curie</th>"),
            std::string::npos);
  EXPECT_NE(page.find("<th scope=\"row\">Skin depth</th><td>\u2013</td><td><data class=\"m\" "
                      "value=\"0.0011\">1.10\u00a0mm</data></td>"),
            std::string::npos);
}

// Property: the parts of the power bar are contiguous from 0 to 100 %.
TEST(Report, BarIsFull) {
  const cw::Result result = cw::sample::result();
  const std::string page = cw::report_page(result, {});
  std::size_t at = page.find("class=\"bar\"");
  const std::size_t end = page.find("</svg>", at);
  double reached = 0.0;
  int segments = 0;
  while ((at = page.find("<rect x=\"", at + 1)) < end) {
    EXPECT_NEAR(std::stod(page.substr(at + 9)), reached, 2e-3);
    reached += std::stod(page.substr(page.find("width=\"", at) + 7));
    ++segments;
  }
  EXPECT_EQ(segments, 4);
  EXPECT_NEAR(reached, 100.0, 5e-3);
}

}  // namespace
