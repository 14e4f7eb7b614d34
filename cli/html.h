#pragma once
// A page of HTML as a tree, which is written with every text escaped: nothing a person typed becomes markup. On pugixml's tree; the writer is our
// own, for HTML's void elements and for the five characters. Tested by tests/cli/sheet_html_test.cpp.
#include <initializer_list>
#include <pugixml.hpp>
#include <string>
#include <string_view>
#include <utility>

namespace leadline::cli {

using Attributes = std::initializer_list<std::pair<const char*, std::string>>;

// A new last child. Words are made printable: control characters and bidirectional overrides become '?'.
pugi::xml_node add(pugi::xml_node parent, const char* tag, Attributes attributes = {});
pugi::xml_node add_words(pugi::xml_node parent, const char* tag, std::string_view words, Attributes attributes = {});
// Words after what the element holds already.
void append_words(pugi::xml_node node, std::string_view words);

// The tree below <html>, with the document type before it. & < > " ' are escaped in texts and attributes, what lies beyond ASCII is a numeric
// reference: the same bytes in every locale. Requires: the words of <style> hold none of these characters.
std::string html_text(pugi::xml_node html);

}  // namespace leadline::cli
