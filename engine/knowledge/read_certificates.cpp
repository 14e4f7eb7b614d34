// Where numbers come from: <source> of an element, <numbers> of a file, and the judgement that no number is without either.
#include <algorithm>
#include <map>

#include "engine/knowledge/numbers.h"
#include "engine/knowledge/read_context.h"

namespace leadline::knowledge {

namespace {

using markup::Element;

// Firm is a standard or a measured value: what somebody estimated, or many do, is not.
void check_firm(const ReadContext& context, const Element& element, const text::Place& place, Ref<Source> ref, Sureness sure) {
  const auto& kind = context.base[ref].kind;
  if (sure == Sureness::firm && (kind == "estimate" || kind == "common-practice")) {
    element.report(place, "'" + context.base[ref].id + "' cannot make a number firm: it is " + (kind == "estimate" ? "an estimate" : "common practice"), "write fair or rough");
  }
}

std::vector<NumberKind> read_kinds(const Element& element) {
  std::vector<NumberKind> kinds;
  if (!element.has("for")) return kinds;
  for (const auto& word : words_of(element.required("for"))) {
    const auto kind = number_kind_of(word.text);
    if (!kind) report_word(element, "for", word, "'" + word.text + "' is no kind of number", text::suggestion(word.text, number_kind_words()));
    else kinds.push_back(*kind);
  }
  return kinds;
}

Sureness read_sure(const Element& element) {
  const auto word = element.one_of("sure", sureness_words());
  return sureness_of(word).value_or(Sureness::rough);
}

void read_numbers_of(Citation& citation, const ReadContext& context, const Element& element) {
  citation.kinds = read_kinds(element);
  if (element.has("of")) {
    for (const auto& word : words_of(element.required("of"))) citation.of.push_back(word.text);
  }
  if (element.has("for")) {
    citation.sure = read_sure(element);
    check_firm(context, element, element.place("sure"), citation.source, citation.sure);
  } else if (element.has("sure") || element.has("of")) {
    element.report(element.place(element.has("sure") ? "sure" : "of"), "this <source> names no kind of number", "add for=\"…\", for instance for=\"threshold\"");
  }
}

// One attribute of <numbers>: "iec-60228 firm".
void read_inherited(ReadContext& context, const Element& element, NumberKind kind) {
  const auto attribute = std::string(to_string(kind));
  const auto words = words_of(element.required(attribute.c_str()));
  if (words.size() != 2) {
    element.report(element.place(attribute.c_str()), "'" + attribute + "' needs a source and how sure it is", "for instance " + attribute + "=\"estimate rough\"");
    return;
  }
  const auto& sources = context.base.sources;
  const auto source = find_id(sources, words[0].text);
  const auto sure = sureness_of(words[1].text);
  if (!source) report_word(element, attribute.c_str(), words[0], "no file declares the source '" + words[0].text + "'", text::suggestion(words[0].text, ids_of(sources), 0));
  if (!sure) report_word(element, attribute.c_str(), words[1], "'" + words[1].text + "' says not how sure it is", text::suggestion(words[1].text, sureness_words()));
  if (!source || !sure) return;
  check_firm(context, element, element.place(attribute.c_str()), *source, *sure);
  context.base.inherited.push_back({element.place().file, kind, {*source, *sure, true, element.place(attribute.c_str())}});
}

// What an element has no number of, a source of it cannot stand for.
void check_citation(ReadContext& context, const Numbered& item, const Citation& citation) {
  const auto report = [&](const std::string& what, const std::string& hint) { context.problems.push_back({citation.place, what, hint}); };
  const auto named = item.kind + (item.id.empty() ? "" : " '" + item.id + "'");
  for (const auto kind : citation.kinds) {
    const bool any = std::any_of(item.numbers.begin(), item.numbers.end(), [&](const auto& number) { return number.kind == kind; });
    if (!any) report("the " + named + " has no number of the kind '" + std::string(to_string(kind)) + "'", "take it out of 'for'");
  }
  for (const auto& name : citation.of) {
    auto only = citation;
    only.of = {name};
    const bool any = std::any_of(item.numbers.begin(), item.numbers.end(), [&](const auto& number) { return stands_for(only, number); });
    if (!any) report("the " + named + " has no such number of '" + name + "'", "'of' names findings, bands, remedies or parts of the element");
  }
}

// One number, one birth certificate.
void check_doubles(ReadContext& context, const Numbered& item) {
  for (std::size_t i = 0; i < item.citations.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const auto &first = item.citations[j], &second = item.citations[i];
      if (first.of.empty() != second.of.empty()) continue;
      const auto both = std::find_if(item.numbers.begin(), item.numbers.end(), [&](const auto& number) { return stands_for(first, number) && stands_for(second, number); });
      if (both == item.numbers.end()) continue;
      context.problems.push_back({second.place, "a second certificate for one number: " + std::string(to_string(both->kind)) + " of '" + both->what + "'",
                                  "keep the source the number was taken from; another may stand without 'for'"});
    }
  }
}

struct Missing {
  Number first;
  std::string item;
  std::size_t count = 0;
};

void report_missing(ReadContext& context, const std::map<std::pair<std::string, NumberKind>, Missing>& missing) {
  for (const auto& [key, lack] : missing) {
    const auto kind = std::string(to_string(key.second));
    const auto more = lack.count > 1 ? ", and for " + std::to_string(lack.count - 1) + " more like it in this file" : "";
    context.problems.push_back({lack.first.place, "no source for the number '" + kind + "' of " + lack.item + more,
                                "add " + kind + "=\"estimate rough\" to the <numbers> at the top of the file, or <source ref=\"…\" for=\"" + kind + "\" sure=\"…\"/> here"});
  }
}

}  // namespace

std::vector<Citation> read_sources(ReadContext& context, const Element& element) {
  std::vector<Citation> citations;
  for (const auto& child : element.children("source")) {
    child.allow_only({"ref", "for", "of", "sure"}, {});
    const auto ref = read_reference(context.base.sources, child, "ref", "source");
    if (!ref) continue;
    Citation citation;
    citation.source = *ref;
    citation.place = child.place();
    read_numbers_of(citation, context, child);
    citations.push_back(std::move(citation));
  }
  return citations;
}

void read_numbers(ReadContext& context) {
  std::map<std::string, text::Place> seen;
  for (const auto& pending : context.pending["numbers"]) {
    const auto& element = pending.element;
    element.allow_only({"frequency", "strength", "effect", "mends", "leak", "threshold", "doubt", "minutes", "part"}, {});
    const auto [first, fresh] = seen.try_emplace(element.place().file, element.place());
    if (!fresh) {
      element.report(element.place(), "a second <numbers> in this file", "first at " + to_string(first->second));
      continue;
    }
    for (const auto& word : number_kind_words()) {
      if (element.has(word.c_str())) read_inherited(context, element, *number_kind_of(word));
    }
  }
}

void check_certificates(ReadContext& context) {
  if (text::has_error(context.problems)) return;  // numbers that could not be read are missing here: say only what is certain
  std::map<std::pair<std::string, NumberKind>, Missing> missing;
  for (const auto& item : all_numbers(context.base)) {
    for (const auto& citation : item.citations) check_citation(context, item, citation);
    check_doubles(context, item);
    for (const auto& number : item.numbers) {
      if (number.certificate) continue;
      auto& lack = missing[{item.place.file, number.kind}];
      if (lack.count++ == 0) lack = {number, "the " + item.kind + (item.id.empty() ? "" : " '" + item.id + "'"), 1};
    }
  }
  report_missing(context, missing);
}

}  // namespace leadline::knowledge
