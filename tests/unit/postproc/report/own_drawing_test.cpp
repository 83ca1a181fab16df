#include "postproc/report/own_drawing.hpp"

#include <gtest/gtest.h>

#include <string>

#include "postproc/picture/canvas.hpp"
#include "postproc/picture/picture.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

std::string own() {
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = cw::sample::uniform_field(mesh, 0.01);
  return cw::svg_of(cw::field_picture({mesh, field, "<b>Bench</b> & \"check\" > 0", 100.0}));
}

// Property: a drawing of ours, with a title full of markup, has nothing foreign.
TEST(OwnDrawing, OursPasses) {
  EXPECT_EQ(cw::foreign_in_drawing(own()), "");
}

// Property: everything that a browser would run, load or take as another element is found, anywhere
// in one of our drawings; so is a drawing that was cut short.
TEST(OwnDrawing, FindsForeignElements) {
  const std::string drawing = own();
  const std::size_t end = drawing.rfind("</svg>"), text = drawing.find("<text ");
  for (const char* foreign : {"<script>alert(1)</script>",
                              "<SCRIPT>",
                              "<style>*{}</style>",
                              "<foreignObject>",
                              "<rect onload=\"alert(1)\"/>",
                              "<rect/onload=\"alert(1)\"/>",
                              "<rect x=\"1\"onload=\"a\"/>",
                              "<image href=\"https://example.org/a.png\"/>",
                              "<image href=\"data:image/svg+xml,a\"/>",
                              "<rect style=\"fill:red\"/>",
                              "<rect fill=\"url(https://example.org/)\"/>",
                              "<a>",
                              "<!--",
                              "<![CDATA[",
                              "<?xml-stylesheet?>",
                              "<!DOCTYPE svg>",
                              "<svg xmlns=\"a\">",
                              "</svg>",
                              "<rect x='1'/>",
                              "<rect\nonload=\"a\"/>",
                              "<rect x=\"1"}) {
    for (const std::size_t at : {end, text}) {
      std::string other = drawing;
      other.insert(at, foreign);
      EXPECT_NE(cw::foreign_in_drawing(other), "") << foreign;
    }
  }
  for (const std::size_t length : {std::size_t{0}, std::size_t{10}, text, drawing.size() - 3})
    EXPECT_NE(cw::foreign_in_drawing(drawing.substr(0, length)), "") << length;
}

// Property: the message about such a file has its name, what was found, what is allowed and what to
// do, and no control character of the file.
TEST(OwnDrawing, MessageSaysWhatToDo) {
  std::string drawing = own();
  drawing.insert(drawing.rfind("</svg>"), "<\x1b[2J>");
  const std::string foreign = cw::foreign_in_drawing(drawing);
  EXPECT_EQ(foreign, "<??2J>");
  const std::string message = cw::foreign_drawing("a/field.svg", foreign, "run the case again");
  EXPECT_EQ(message,
            "a/field.svg: found <??2J>; allowed: a drawing as this program writes it; run the case "
            "again, or remove the file.");
}

}  // namespace
