#include "engine/knowledge/reader.h"

#include <algorithm>
#include <boost/uuid/name_generator_sha1.hpp>
#include <boost/uuid/uuid_io.hpp>

#include "engine/knowledge/read_context.h"

namespace leadline::knowledge {

namespace {

void collect(ReadContext& context, const markup::Document& document) {
  const markup::Element root(document, document.root(), context.problems);
  if (root.name() != "knowledge") {
    root.report(root.place(), "the root element is '" + root.name() + "'", "expected <knowledge subsystem=\"…\">");
    return;
  }
  root.allow_only({"subsystem"}, {"source", "precaution", "finding", "check", "remedy", "cause", "element", "quantity", "circuit", "place", "condition", "tool",
                             "giving-up", "unlisted", "numbers"});
  const auto subsystem = root.required("subsystem");
  for (const auto node : document.root().children()) {
    if (node.type() != pugi::node_element) continue;
    context.pending[node.name()].push_back({markup::Element(document, node, context.problems), subsystem});
  }
}

// By the name without its folder: ties are broken by the order of the lists, and that must not depend on who listed the files.
std::vector<const text::Source*> by_name(std::span<const text::Source> files) {
  const auto base_name = [](const text::Source* file) { return file->name.substr(file->name.find_last_of('/') + 1); };
  std::vector<const text::Source*> sorted;
  for (const auto& file : files) sorted.push_back(&file);
  std::stable_sort(sorted.begin(), sorted.end(), [&](const auto* a, const auto* b) { return base_name(a) < base_name(b); });
  return sorted;
}

// A name-based UUID (RFC 4122 version 5) over names without folders and contents: the same from a folder and from within the program.
std::string digest_of(const std::vector<const text::Source*>& sorted) {
  std::string all;
  for (const auto* file : sorted) all += file->name.substr(file->name.find_last_of('/') + 1) + '\0' + std::to_string(file->content.size()) + '\0' + file->content;
  return boost::uuids::to_string(boost::uuids::name_generator_sha1(boost::uuids::ns::oid())(all));
}

bool legal_id(const std::string& id) {
  const auto legal = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; };
  return !id.empty() && id.size() <= 80 && std::all_of(id.begin(), id.end(), legal);
}

// Fills `items` with ids only, so that references from any file can be resolved afterwards.
template <class T>
void register_kind(ReadContext& context, const char* kind, std::vector<T>& items) {
  std::vector<Pending> kept;
  for (const auto& pending : context.pending[kind]) {
    const auto& element = pending.element;
    T item;
    item.id = element.required("id");
    item.place = element.place();
    if (item.id.empty()) continue;
    if (!legal_id(item.id)) element.report(element.place("id"), "'" + item.id + "' is no id", "lower-case letters, digits and hyphens");
    if (const auto first = find_id(items, item.id)) {
      element.report(element.place("id"), std::string("the ") + kind + " '" + item.id + "' is declared twice", "first at " + to_string(items[first->index].place));
      continue;
    }
    items.push_back(std::move(item));
    kept.push_back(pending);
  }
  context.pending[kind] = std::move(kept);
}

}  // namespace

Vocabulary ReadContext::vocabulary(const Scope& scope) const {
  Vocabulary vocabulary{base.elements, base.facts, {}, scope.each};
  for (const auto& quantity : base.quantities) vocabulary.quantities.push_back(quantity.name);
  if (scope.measured) vocabulary.quantities.insert(vocabulary.quantities.end(), {"healthy", "healthy_low", "healthy_high"});
  return vocabulary;
}

std::optional<Expression> read_expression(ReadContext& context, const markup::Element& element, const char* attribute, Wanted wanted,
                                          const Scope& scope) {
  if (!element.has(attribute)) return std::nullopt;
  const auto written = element.optional(attribute);
  if (const auto fault = check_expression(written, wanted, context.vocabulary(scope))) {
    element.report(element.document().place_in_value(element.node(), attribute, fault->offset), fault->what, fault->hint);
    return std::nullopt;
  }
  return Expression{written, element.place(attribute)};
}

std::vector<Word> words_of(const std::string& value) {
  constexpr auto blanks = " \t\r\n";
  std::vector<Word> words;
  for (auto at = value.find_first_not_of(blanks); at != std::string::npos;) {
    const auto end = value.find_first_of(blanks, at);
    words.push_back({value.substr(at, end - at), at});
    at = value.find_first_not_of(blanks, std::min(end, value.size()));
  }
  return words;
}

void report_word(const markup::Element& element, const char* attribute, const Word& word, const std::string& what, const std::string& hint) {
  element.report(element.document().place_in_value(element.node(), attribute, word.offset), what, hint);
}

std::vector<std::string> read_texts(const markup::Element& element, const char* child) {
  std::vector<std::string> texts;
  for (const auto& item : element.children(child)) texts.push_back(item.text());
  return texts;
}

void register_ids(ReadContext& context) {
  register_kind(context, "source", context.base.sources);
  register_kind(context, "circuit", context.base.circuits);
  register_kind(context, "place", context.base.places);
  register_kind(context, "condition", context.base.conditions);
  register_kind(context, "tool", context.base.tools);
  register_kind(context, "precaution", context.base.precautions);
  register_kind(context, "finding", context.base.findings);
  register_kind(context, "check", context.base.checks);
  register_kind(context, "remedy", context.base.remedies);
  register_kind(context, "cause", context.base.causes);
}

text::Loaded<KnowledgeBase> read_knowledge(std::span<const text::Source> files) {
  ReadContext context;
  context.documents.reserve(files.size());  // pending elements point into it
  for (const auto* file : by_name(files)) {
    auto parsed = markup::parse(*file);
    context.problems.insert(context.problems.end(), parsed.problems.begin(), parsed.problems.end());
    if (!parsed.value) continue;
    context.documents.push_back(*std::move(parsed.value));
    collect(context, context.documents.back());
  }
  // With a file missing, every reference into it would be reported too: say only what is certain.
  if (text::has_error(context.problems) && context.documents.size() < files.size()) {
    text::sort_by_place(context.problems);
    return {std::nullopt, std::move(context.problems)};
  }
  register_ids(context);
  read_record(context);
  read_numbers(context);
  read_circuits(context);
  read_findings(context);
  read_job(context);
  read_actions(context);
  read_causes(context);
  check_references(context);
  check_certificates(context);
  text::sort_by_place(context.problems);
  if (text::has_error(context.problems)) return {std::nullopt, std::move(context.problems)};
  context.base.digest = digest_of(by_name(files));
  return {std::move(context.base), std::move(context.problems)};
}

}  // namespace leadline::knowledge
