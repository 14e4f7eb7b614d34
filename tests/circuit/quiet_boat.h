#pragma once
// A record in which every fact is stated and nothing is to be remarked, and what a test changes in it. The boat is invented.
#include <stdexcept>
#include <string>
#include <vector>

#include "engine/installation/record.h"
#include "tests/circuit/shipped_base.h"

namespace leadline::testing {

inline const std::string quiet_record = R"(<installation name="Quiet Curlew">
  <bank volts="24" chemistry="agm" arrangement="series" amp-hours="200" age="2" charge="95" cold-cranking="0" temperature="20" feeds="thruster-only"/>
  <power length="3" area="95" class="class-5" tinned="yes" temperature="20" insulation="105" engine-space="no" common-negative="yes" fuse="325"
         isolator="manual" renewed="no"/>
  <thruster name="bow" role="bow" motor="brushed" amps="280" duty="3" mounting="tunnel" propellers="1" shear-pin="yes"/>
  <charging mains="yes" step-up="yes" step-up-from="house" wake="13.2" source-volts="13.8" step-up-amps="10" step-up-length="3" step-up-area="25"
            source-amp-hours="200" mains-amps="20" absorption="14.4" alternator="no" solar="no" set-for="right"/>
  <network supply="house" length="14" terminators="two" shape="string" area="0.25" supply-area="0.75" device-amps="0.1" bit-rate="250" feed="helm"
           shared="no"/>
  <station name="helm" number="1" kind="panel" drives="bow" reversed="no"/>
  <station name="wing" number="2" kind="panel" drives="bow" reversed="no"/>
  <segment from="bow" to="helm" length="8" kind="trunk"/>
  <segment from="helm" to="wing" length="6" kind="trunk"/>
  <terminator at="bow" ohm="120"/>
  <terminator at="wing" ohm="120"/>
  <lately work="none"/>
</installation>)";

// Changes to the record: values by XPath below <installation> ("station[2]/@number"; "-" takes the fact or element away), elements added.
struct Change {
  std::vector<std::pair<std::string, std::string>> set;
  std::string add = {};
};

inline void apply(pugi::xml_document& record, const std::string& path, const std::string& value) {
  const auto found = record.select_node(("/installation/" + path).c_str());
  if (!found) throw std::runtime_error("the quiet record has no " + path);
  if (value == "-" && found.attribute())
    found.parent().remove_attribute(found.attribute());
  else if (value == "-")
    found.node().parent().remove_child(found.node());
  else
    found.attribute().set_value(value.c_str());
}

inline std::string changed_record(const Change& change) {
  pugi::xml_document record;
  record.load_string(quiet_record.c_str());
  for (const auto& [path, value] : change.set) apply(record, path, value);
  record.document_element().append_buffer(change.add.data(), change.add.size());
  std::ostringstream out;
  record.save(out);
  return out.str();
}

inline installation::Installation boat_with(const Change& change, const knowledge::KnowledgeBase& base = shipped_base()) {
  const text::Source file{"boat.xml", changed_record(change)};
  auto loaded = installation::read_installation(base, file);
  if (!loaded.value) throw std::runtime_error(text::render(loaded.problems, std::vector{file}));
  return *std::move(loaded.value);
}

}  // namespace leadline::testing
