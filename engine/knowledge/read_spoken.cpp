// The words for the telephone, and what a layman takes who is told what to do. Tested by tests/knowledge/reader_spoken_test.cpp.
#include "engine/knowledge/read_context.h"

namespace leadline::knowledge {

namespace {

using markup::Element;

constexpr double slowest = 20;

void read_by_phone(ReadContext& context, const Element& element) {
  element.allow_only({"times", "minutes"}, {"source"});
  auto& by_phone = context.base.by_phone;
  if (!by_phone.place.file.empty()) element.report(element.place(), "a second <by-phone>", "first at " + to_string(by_phone.place));
  by_phone = {element.number("times", 1, slowest), element.number("minutes", 0, longest_minutes), read_sources(context, element), element.place()};
}

// Said once of each thing: a second time nobody would know which counts.
void say(const Element& element, const char* child, bool must, std::string& words) {
  if (!words.empty()) element.report(element.place(), std::string("a second <spoken> with <") + child + "> for this", "keep one");
  words = element.child_text(child, must);
}

void read_spoken_of(ReadContext& context, const Element& element) {
  element.allow_only({"precaution", "fact"}, {"ask", "before", "meanwhile"});
  if (element.has("precaution") == element.has("fact")) return element.report(element.place(), "<spoken> needs exactly one of 'precaution' and 'fact'");
  auto& base = context.base;
  if (element.has("fact")) {
    const auto path = element.required("fact");
    const auto fact = find_fact(base, path);
    if (!fact) return element.report(element.place("fact"), "no file declares the fact '" + path + "'", "write it as in bank/@volts");
    return say(element, "ask", true, base.facts[*fact].lay);
  }
  const auto ref = read_reference(base.precautions, element, "precaution", "precaution");
  if (!ref) return;
  auto& precaution = base.precautions[ref->index];
  say(element, "before", false, precaution.before);
  say(element, "meanwhile", false, precaution.meanwhile);
  if (precaution.before.empty() && precaution.meanwhile.empty()) element.report(element.place(), "<spoken> says nothing", "add <before> or <meanwhile>");
}

}  // namespace

void read_spoken(ReadContext& context) {
  for (const auto& pending : context.pending["by-phone"]) read_by_phone(context, pending.element);
  for (const auto& pending : context.pending["spoken"]) read_spoken_of(context, pending.element);
}

}  // namespace leadline::knowledge
