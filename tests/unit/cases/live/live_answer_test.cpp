#include "cases/live/live_answer.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <vector>

#include "cases/commands/starter.hpp"

namespace cw::cases {
namespace {

using Message = nlohmann::json;

std::vector<Message> messages_about(const std::string& text) {
  std::vector<Message> messages;
  answer_live(text, "heater.toml",
              [&](const std::string& bytes) { messages.push_back(Message::parse(bytes)); });
  return messages;
}

/// The parts in the order in which they come, each where it comes first.
std::vector<std::string> parts_in_order(const std::vector<Message>& messages) {
  std::vector<std::string> order;
  for (const Message& message : messages) {
    const std::string part = message.value("part", "");
    if (!part.empty() && std::ranges::find(order, part) == order.end()) order.push_back(part);
  }
  return order;
}

// Property: what is known early comes early: one state before the others, all states before their
// pictures, everything about the states before the heating run.
TEST(LiveAnswer, TheQuickPartsComeFirst) {
  const std::vector<Message> messages = messages_about(starter_case("harden"));
  EXPECT_EQ(parts_in_order(messages),
            (std::vector<std::string>{"states", "verdict", "limits", "warnings", "care", "cautions",
                                      "demand", "field", "heating"}));
  const auto first = std::ranges::find_if(
      messages, [](const Message& message) { return message.contains("part"); });
  ASSERT_NE(first, messages.end());
  const std::string html = first->at("html");
  EXPECT_NE(html.find("<th scope=\"col\">Empty coil</th></tr>"), std::string::npos) << html;
  EXPECT_EQ(messages.back().value("accuracy", ""), "normal");
  const Message& heating = messages[messages.size() - 2];
  EXPECT_EQ(heating.value("part", ""), "heating");
  EXPECT_NE(heating.at("html").get<std::string>().find("<svg"), std::string::npos);
}

// Property: a mistake is told, and nothing else.
TEST(LiveAnswer, AMistakeIsTold) {
  const std::vector<Message> messages = messages_about("[coil]\nturns = \"many\"\n");
  ASSERT_EQ(messages.size(), 1U);
  EXPECT_NE(messages[0].value("failed", "").find("heater.toml:2"), std::string::npos);
}

}  // namespace
}  // namespace cw::cases
