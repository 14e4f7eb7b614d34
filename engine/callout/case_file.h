#pragma once
// A recorded call-out as XML: installation, complaint, answers. The format: docs/case-format.md. Tested by tests/callout/case_file_test.cpp.
#include "engine/callout/callout.h"

namespace leadline::callout {

//   <callout role="technician" instrument="pocket" found="fuse-blown">   `found`: causes, when the job is over; may be left out
//     <title>…</title>
//     <installation name="…">…</installation>
//     <complaint finding="push" state="none"/>            an answer by the owner's own eyes and ears
//     <answer finding="bank-volts-rest" reading="24.6 V" by="technician"/>
//     <answer finding="smell" said="cannot-tell"/>        or "not-fitted"
//     <remedy ref="remake-lug"/>                          done; what is answered after it speaks of the boat after it
//   </callout>
text::Loaded<Record> read_case(const knowledge::KnowledgeBase& base, const text::Source& file);

// The record as XML that read_case accepts: what `diagnose` leaves behind.
std::string to_xml(const knowledge::KnowledgeBase& base, const Record& record);

}  // namespace leadline::callout
