#pragma once
// Invented boats for the checks against ngspice: between them every voltage, motor, bank, chemistry, charging path and network supply of the
// record, and networks of 2 to 8 devices. Some list their string and terminators, others leave them to be assumed.
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "engine/circuit/expectation.h"
#include "tests/circuit/shipped_base.h"

namespace leadline::testing {

struct Boat {
  std::string name, facts;  // facts: what stands inside <installation>
};

inline const std::vector<Boat> invented_boats = {
    {"Sandmartin: 12 V, one flooded battery, brushed, 2 devices on the house battery", R"(
  <bank volts="12" chemistry="flooded" arrangement="single" amp-hours="110" age="3" charge="90" cold-cranking="800"/>
  <power length="4" area="70" fuse="250" isolator="manual"/><thruster name="bow" motor="brushed" amps="220"/>
  <charging mains="yes" mains-amps="15"/><network supply="house" length="8"/><station name="helm"/>)"},
    {"Whimbrel: 24 V, AGM pair, brushed, 3 devices listed, house", R"(
  <bank volts="24" chemistry="agm" arrangement="series" amp-hours="120" age="5" charge="95"/>
  <power length="7" area="95" class="class-5" fuse="355"/><thruster name="bow" motor="brushed" amps="310"/>
  <charging mains="yes" mains-amps="20"/><network supply="house" length="16" feed="helm"/>
  <station name="helm" number="1"/><station name="wing" number="2"/>
  <segment from="bow" to="helm" length="10"/><segment from="helm" to="wing" length="6"/><terminator at="bow"/><terminator at="wing"/>)"},
    {"Knot: 48 V, AGM, brushless, 4 devices assumed, house", R"(
  <bank volts="48" chemistry="agm" arrangement="series" amp-hours="100" age="2" charge="90"/>
  <power length="9" area="50" fuse="250" isolator="manual"/><thruster name="bow" motor="brushless" amps="180"/>
  <charging mains="yes" mains-amps="15"/><network supply="house" length="24"/>
  <station name="helm" number="1"/><station name="wing" number="2"/><station name="cockpit" number="3"/>)"},
    {"Dunlin: 24 V, gel pair, brushless, 5 devices listed, starter", R"(
  <bank volts="24" chemistry="gel" arrangement="series" amp-hours="140" age="4" charge="85" temperature="8"/>
  <power length="6" area="70" class="class-2" tinned="no" fuse="300" isolator="remote"/><thruster name="bow" motor="brushless" amps="240"/>
  <charging mains="yes" mains-amps="25" absorption="14.1"/><network supply="starter" length="30" feed="wheelhouse"/>
  <station name="wheelhouse" number="1"/><station name="port wing" number="2"/>
  <station name="starboard wing" number="3"/><station name="aft" number="4"/>
  <segment from="bow" to="wheelhouse" length="12"/><segment from="wheelhouse" to="port wing" length="5"/>
  <segment from="port wing" to="starboard wing" length="6"/><segment from="starboard wing" to="aft" length="7"/>
  <terminator at="bow"/><terminator at="aft"/>)"},
    {"Turnstone: 12 V, two flooded in parallel with an alternator, brushed, fed from the bank itself", R"(
  <bank volts="12" chemistry="flooded" arrangement="parallel" amp-hours="220" age="6" charge="85"/>
  <power length="3" area="70" fuse="300"/><thruster name="bow" motor="brushed" amps="260"/>
  <charging mains="yes" mains-amps="30" alternator="yes"/><network supply="bank" length="9"/>
  <station name="helm" number="1"/><station name="fly" number="2"/>)"},
    {"Redshank: 24 V, AGM series-parallel, brushed, 6 devices on a converter", R"(
  <bank volts="24" chemistry="agm" arrangement="series-parallel" amp-hours="240" age="3" charge="95"/>
  <power length="8" area="120" fuse="500"/><thruster name="bow" motor="brushed" amps="420"/>
  <charging mains="yes" mains-amps="40"/><network supply="converter" length="28"/>
  <station name="helm" number="1"/><station name="fly" number="2"/><station name="port" number="3"/><station name="starboard" number="4"/>
  <station name="aft" number="5"/>)"},
    {"Bittern: 24 V, forward AGM bank with a step-up charger, brushed, 8 devices listed, house", R"(
  <bank volts="24" chemistry="agm" arrangement="series" amp-hours="90" age="4" charge="90"/>
  <power length="2.5" area="50" fuse="250"/><thruster name="bow" motor="brushed" amps="240"/>
  <charging mains="no" step-up="yes" step-up-from="house" wake="13.2" source-volts="13.9" step-up-amps="10" step-up-length="9" step-up-area="25"/>
  <network supply="house" length="38" feed="saloon"/>
  <station name="saloon" number="1"/><station name="helm" number="2"/><station name="fly" number="3"/><station name="port" number="4"/>
  <station name="starboard" number="5"/><station name="aft" number="6"/><station name="tender" number="7"/>
  <segment from="bow" to="saloon" length="8"/><segment from="saloon" to="helm" length="4"/><segment from="helm" to="fly" length="5"/>
  <segment from="fly" to="port" length="6"/><segment from="port" to="starboard" length="5"/><segment from="starboard" to="aft" length="6"/>
  <segment from="aft" to="tender" length="4"/><terminator at="bow"/><terminator at="tender"/>)"},
    {"Godwit: 48 V, lithium, brushless, 3 devices on a converter", R"(
  <bank volts="48" chemistry="lithium" arrangement="series" amp-hours="100" age="1" charge="80"/>
  <power length="10" area="70" fuse="300" isolator="remote"/><thruster name="bow" motor="brushless" amps="220"/>
  <charging mains="yes" mains-amps="20"/><network supply="converter" length="18"/>
  <station name="helm" number="1"/><station name="wing" number="2"/>)"},
    {"Curlew: 36 V, gel, brushed, 4 devices on the starter battery", R"(
  <bank volts="36" chemistry="gel" arrangement="series" amp-hours="110" age="5" charge="90"/>
  <power length="5" area="50" fuse="250" isolator="none"/><thruster name="stern" role="stern" motor="brushed" amps="200"/>
  <charging mains="yes" mains-amps="15" absorption="14.1"/><network supply="starter" length="20"/>
  <station name="helm" number="1" drives="stern"/><station name="port" number="2" drives="stern"/><station name="aft" number="3" drives="stern"/>)"},
    {"Stilt: 12 V, one lithium battery forward, charged from the starter battery, brushed, 3 devices listed", R"(
  <bank volts="12" chemistry="lithium" arrangement="single" amp-hours="150" age="2" charge="90"/>
  <power length="2" area="95" fuse="300"/><thruster name="bow" motor="brushed" amps="230"/>
  <charging mains="no" step-up="yes" step-up-from="starter" wake="13.3" source-volts="14.1" step-up-amps="25" step-up-length="10"
            step-up-area="35"/>
  <network supply="starter" length="14" feed="bow"/><station name="helm" number="1"/><station name="fly" number="2"/>
  <segment from="bow" to="helm" length="11"/><segment from="helm" to="fly" length="3"/><terminator at="bow"/><terminator at="fly"/>)"},
    {"Avocet: 24 V, flooded pair, brushed, 7 devices on the lower battery of the bank", R"(
  <bank volts="24" chemistry="flooded" arrangement="series" amp-hours="180" age="4" charge="95" cold-cranking="950"/>
  <power length="6" area="95" class="class-2" fuse="355"/><thruster name="bow" motor="brushed" amps="300"/>
  <charging mains="yes" mains-amps="30" absorption="14.5"/><network supply="bank-lower" length="33"/>
  <station name="helm" number="1"/><station name="fly" number="2"/><station name="port" number="3"/><station name="starboard" number="4"/>
  <station name="aft" number="5"/><station name="saloon" number="6"/>)"},
    {"Oystercatcher: 24 V, AGM pair with step-up and mains charger, brushless, 6 devices listed, house", R"(
  <bank volts="24" chemistry="agm" arrangement="series" amp-hours="160" age="3" charge="95"/>
  <power length="3" area="70" fuse="300" isolator="remote"/><thruster name="bow" motor="brushless" amps="260"/>
  <charging mains="yes" mains-amps="20" step-up="yes" step-up-from="house" wake="13.2" source-volts="13.5" step-up-amps="8"
            step-up-length="6" step-up-area="35"/>
  <network supply="house" length="26" feed="helm"/>
  <station name="mate" number="1"/><station name="helm" number="2"/><station name="fly" number="3"/><station name="port" number="4"/>
  <station name="aft" number="5"/>
  <segment from="bow" to="mate" length="7"/><segment from="mate" to="helm" length="3"/><segment from="helm" to="fly" length="4"/>
  <segment from="fly" to="port" length="6"/><segment from="port" to="aft" length="6"/><terminator at="bow"/><terminator at="aft"/>)"},
    {"Phalarope: 48 V, AGM series-parallel, brushless, 5 devices on the house battery", R"(
  <bank volts="48" chemistry="agm" arrangement="series-parallel" amp-hours="200" age="7" charge="85" temperature="5"/>
  <power length="14" area="95" fuse="400"/><thruster name="bow" motor="brushless" amps="320"/>
  <charging mains="yes" mains-amps="20"/><network supply="house" length="40" supply-area="1.5"/>
  <station name="helm" number="1"/><station name="wing" number="2"/><station name="mast" number="3"/><station name="aft" number="4"/>)"},
    {"Sanderling: 12 V, one AGM battery, brushed, wired without a network", R"(
  <bank volts="12" chemistry="agm" arrangement="single" amp-hours="95" age="2" charge="95"/>
  <power length="3.5" area="50" fuse="200"/><thruster name="bow" motor="brushed" amps="160"/>
  <charging mains="no" alternator="yes"/><network supply="none"/><station name="helm"/>)"},
};

inline installation::Installation installation_of(const Boat& boat) {
  const text::Source file{"boat.xml", "<installation name=\"invented\">" + boat.facts + "</installation>"};
  auto loaded = installation::read_installation(shipped_base(), file);
  if (!loaded.value) throw std::runtime_error(boat.name + "\n" + text::render(loaded.problems, std::vector{file}));
  return *std::move(loaded.value);
}

// One fault put into one circuit of a boat: an alternative of a cause at a size.
struct Injected {
  std::size_t circuit = 0, cause = 0, alternative = 0;
  double size = 0;
};

inline std::string name_of(const circuit::Expectation& expectation, const Injected& fault) {
  const auto& alternative = expectation.faults(fault.circuit, fault.cause)[fault.alternative];
  return shipped_base().causes[fault.cause].id + " (" + alternative.words + (alternative.struck.empty() ? "" : ", " + alternative.struck) + ") at " +
         std::to_string(fault.size).substr(0, 4);
}

// Of a cause's ways to show in a circuit all, but of one way that may strike in many places the first, the middle and the last.
inline std::vector<std::size_t> places_looked_at(const std::vector<circuit::Alternative>& alternatives) {
  std::vector<std::size_t> chosen;
  for (std::size_t first = 0; first < alternatives.size();) {
    std::size_t end = first;
    while (end < alternatives.size() && alternatives[end].effect == alternatives[first].effect) ++end;
    const auto middle = first + (end - first) / 2;
    for (std::size_t at = first; at < end; ++at) {
      if (at == first || at == middle || at + 1 == end) chosen.push_back(at);
    }
    first = end;
  }
  return chosen;
}

inline const std::vector<double> sizes_looked_at = {0.15, 0.85};

// Every cause that has an effect on this circuit, in every way, small and large.
inline std::vector<Injected> faults_of_circuit(const circuit::Expectation& expectation, std::size_t circuit) {
  std::vector<Injected> faults;
  for (std::size_t cause = 0; cause < shipped_base().causes.size(); ++cause) {
    const auto& alternatives = expectation.faults(circuit, cause);
    for (const auto at : places_looked_at(alternatives)) {
      for (const double size : sizes_looked_at) {
        faults.push_back({circuit, cause, at, size});
        if (!alternatives[at].sized()) break;
      }
    }
  }
  return faults;
}

inline std::vector<circuit::PartNumbers> numbers_under(const circuit::Expectation& expectation, const Injected& fault) {
  const auto& healthy = expectation.bench(fault.circuit)->healthy();
  auto numbers = circuit::numbers_of(healthy);
  circuit::apply(expectation.faults(fault.circuit, fault.cause)[fault.alternative], fault.size, healthy, numbers);
  return numbers;
}

}  // namespace leadline::testing
