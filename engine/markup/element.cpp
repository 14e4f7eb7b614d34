#include "engine/markup/element.h"

#include <algorithm>

#include "engine/text/number.h"
#include "engine/text/spelling.h"

namespace leadline::markup {

namespace {

constexpr std::size_t most_listed = 20;  // child elements named to somebody who wrote an unknown one; the root of the book has 14

}  // namespace

std::string fold_blanks(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool blank = c == ' ' || c == '\t' || c == '\n' || c == '\r';
    if (!blank) out += c;
    else if (!out.empty() && out.back() != ' ') out += ' ';
  }
  if (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

void Element::report(const text::Place& place, std::string what, std::string hint) const {
  problems_->push_back({place, std::move(what), std::move(hint), text::Severity::error});
}

std::string Element::required(const char* attribute) const {
  auto value = optional(attribute);
  if (!has(attribute)) report(place(), "'" + name() + "' lacks the attribute '" + attribute + "'", std::string("add ") + attribute + "=\"…\"");
  else if (value.empty()) report(place(attribute), std::string("the attribute '") + attribute + "' is empty");
  return value;
}

double Element::number(const char* attribute, double least, double most) const {
  const auto written = required(attribute);
  if (written.empty()) return least;
  const auto value = text::parse_number(written);
  if (!value) {
    report(place(attribute), "'" + written + "' is not a number", text::number_hint(written));
    return least;
  }
  if (*value < least || *value > most) {
    report(place(attribute), std::string("'") + attribute + "' is " + written + ", outside its range",
           "from " + text::format_number(least, 6) + " to " + text::format_number(most, 6));
    return least;
  }
  return *value;
}

bool Element::yes(const char* attribute) const {
  return has(attribute) && one_of(attribute, {"yes", "no"}) == "yes";
}

std::string Element::one_of(const char* attribute, const std::vector<std::string>& words) const {
  const auto written = required(attribute);
  if (written.empty() || std::find(words.begin(), words.end(), written) != words.end()) return written;
  report(place(attribute), std::string("'") + attribute + "' cannot be '" + written + "'", text::suggestion(written, words));
  return "";
}

std::string Element::text() const {
  std::string joined;
  for (const auto child : node_.children()) {
    if (child.type() == pugi::node_element) report(document_->place(child), "'" + name() + "' holds plain text only", "remove this element");
    else if (child.type() != pugi::node_comment) joined += child.value();
  }
  auto folded = fold_blanks(joined);
  if (folded.empty()) report(place(), "'" + name() + "' is empty");
  return folded;
}

std::string Element::child_text(const char* child, bool must) const {
  const auto found = children(child);
  if (found.empty()) {
    if (must) report(place(), "'" + name() + "' lacks <" + child + ">", std::string("add <") + child + ">…</" + child + ">");
    return "";
  }
  if (found.size() > 1) report(found[1].place(), std::string("a second <") + child + ">", "keep one");
  return found[0].text();
}

std::vector<Element> Element::children(const char* child) const {
  std::vector<Element> found;
  for (const auto node : node_.children(child)) found.emplace_back(*document_, node, *problems_);
  return found;
}

void Element::report_unknown_attributes(std::initializer_list<const char*> known) const {
  const std::vector<std::string> words(known.begin(), known.end());
  for (const auto attribute : node_.attributes()) {
    const std::string word = attribute.name();
    if (std::find(words.begin(), words.end(), word) != words.end()) continue;
    report(place(word.c_str()), "'" + name() + "' has no attribute '" + word + "'", text::suggestion(word, words));
  }
}

void Element::allow_text(std::initializer_list<const char*> attributes) const {
  report_unknown_attributes(attributes);
}

void Element::allow_only(std::initializer_list<const char*> attributes, std::initializer_list<const char*> children) const {
  report_unknown_attributes(attributes);
  const std::vector<std::string> known(children.begin(), children.end());
  for (const auto child : node_.children()) {
    const std::string word = child.name();
    if (child.type() == pugi::node_element && std::find(known.begin(), known.end(), word) == known.end()) {
      report(document_->place(child), "'" + name() + "' has no element '" + word + "'", text::suggestion(word, known, most_listed));
    }
    const bool stray = (child.type() == pugi::node_pcdata || child.type() == pugi::node_cdata) && !fold_blanks(child.value()).empty();
    if (stray) report(document_->place(child), "text stands directly in '" + name() + "'", "put it into an element");
  }
}

}  // namespace leadline::markup
