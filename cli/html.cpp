#include "cli/html.h"

#include <array>

#include "engine/text/utf8.h"

namespace leadline::cli {

namespace {

bool is_void(std::string_view tag) {
  static constexpr std::array<std::string_view, 5> voids{"meta", "br", "hr", "col", "img"};
  for (const auto name : voids) {
    if (name == tag) return true;
  }
  return false;
}

// The number of a well-formed character of two bytes or more.
unsigned code_of(std::string_view character) {
  const auto lead = static_cast<unsigned char>(character[0]);
  unsigned code = lead & (character.size() == 2 ? 0x1FU : character.size() == 3 ? 0x0FU : 0x07U);
  for (const char c : character.substr(1)) code = code << 6 | (static_cast<unsigned char>(c) & 0x3FU);
  return code;
}

std::string escaped(std::string_view words) {
  std::string out;
  for (const auto& character : text::split_characters(words)) {
    if (character == "&") out += "&amp;";
    else if (character == "<") out += "&lt;";
    else if (character == ">") out += "&gt;";
    else if (character == "\"") out += "&quot;";
    else if (character == "'") out += "&#39;";
    else if (character.size() == 1) out += character;
    else out += "&#" + std::to_string(code_of(character)) + ";";
  }
  return out;
}

bool holds_words(pugi::xml_node node) {
  for (const auto child : node.children()) {
    if (child.type() == pugi::node_pcdata) return true;
  }
  return false;
}

// Children stand on lines of their own where no words stand beside them: blanks there mean nothing.
void write(std::string& out, pugi::xml_node node) {
  const std::string tag = node.name();
  out += "<" + tag;
  for (const auto attribute : node.attributes()) out += " " + std::string(attribute.name()) + "=\"" + escaped(attribute.value()) + "\"";
  out += ">";
  if (is_void(tag)) return;
  const bool lines = !holds_words(node) && !node.first_child().empty();
  for (const auto child : node.children()) {
    if (lines) out += "\n";
    if (child.type() == pugi::node_pcdata) out += tag == "style" ? child.value() : escaped(child.value());
    else write(out, child);
  }
  out += (lines ? "\n</" : "</") + tag + ">";
}

}  // namespace

pugi::xml_node add(pugi::xml_node parent, const char* tag, Attributes attributes) {
  auto node = parent.append_child(tag);
  for (const auto& [name, value] : attributes) node.append_attribute(name).set_value(text::printable(value).c_str());
  return node;
}

pugi::xml_node add_words(pugi::xml_node parent, const char* tag, std::string_view words, Attributes attributes) {
  auto node = add(parent, tag, attributes);
  append_words(node, words);
  return node;
}

void append_words(pugi::xml_node node, std::string_view words) { node.append_child(pugi::node_pcdata).set_value(text::printable(words).c_str()); }

std::string html_text(pugi::xml_node html) {
  std::string out = "<!DOCTYPE html>\n";
  write(out, html);
  return out + "\n";
}

}  // namespace leadline::cli
