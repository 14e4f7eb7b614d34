// Our strict scanner beside libxml2: what we call ill-formed is ill-formed to others too, but for a written list of our
// own refusals, and we let nothing pass that others call ill-formed, but for a written list.
#include <gtest/gtest.h>

#include <random>

#include "engine/markup/document.h"
#include "tests/outside/xmllint.h"

namespace leadline {
namespace {

struct Text {
  const char* name;
  std::string content;
};

bool we_refuse(const std::string& content) {
  return !markup::parse({"text.xml", content}).value.has_value();
}
int their_code(const std::string& content) {
  return testing::xmllint_text("", content).code;
}

const Text both_refuse[] = {
    {"empty", ""},
    {"blanks only", " \n"},
    {"text only", "words"},
    {"never closed", "<a>"},
    {"closed by another name", "<a></b>"},
    {"crossed", "<a><b></a></b>"},
    {"closed twice", "<a></a></a>"},
    {"two roots", "<a/><b/>"},
    {"text after the root", "<a/>words"},
    {"text before the root", "words<a/>"},
    {"reference after the root", "<a/>&amp;"},
    {"CDATA outside the root", "<a/><![CDATA[x]]>"},
    {"attribute twice", "<a b='1' b='2'/>"},
    {"attribute without value", "<a b/>"},
    {"attribute without quotes", "<a b=1/>"},
    {"attribute never closed", "<a b='1/>"},
    {"attributes without a blank between", "<a b='1'c='2'/>"},
    {"'<' in an attribute", "<a b='<'/>"},
    {"'<' as text", "<a>1 < 2</a>"},
    {"bare ampersand", "<a>fuse & holder</a>"},
    {"ampersand in an attribute", "<a b='x & y'/>"},
    {"unknown entity", "<a>&nbsp;</a>"},
    {"reference without semicolon", "<a>&amp</a>"},
    {"reference to NUL", "<a>&#0;</a>"},
    {"reference to a control character", "<a>&#27;</a>"},
    {"reference to a surrogate", "<a>&#xD800;</a>"},
    {"reference beyond Unicode", "<a>&#x110000;</a>"},
    {"reference of no digits", "<a>&#;</a>"},
    {"reference with a sign", "<a>&#-65;</a>"},
    {"']]>' in text", "<a>]]></a>"},
    {"two dashes in a comment", "<a><!-- x -- y --></a>"},
    {"comment ending in three dashes", "<a><!-- x ---></a>"},
    {"comment never closed", "<a><!-- x </a>"},
    {"CDATA never closed", "<a><![CDATA[ x </a>"},
    {"instruction never closed", "<a><?x </a>"},
    {"declaration after a blank", " <?xml version='1.0'?><a/>"},
    {"declaration in the middle", "<a><?xml version='1.0'?></a>"},
    {"declaration without a version", "<?xml?><a/>"},
    {"declaration of version 2.0", "<?xml version='2.0'?><a/>"},
    {"declaration with a misspelt word", "<?xml version='1.0' enoding='utf-8'?><a/>"},
    {"declaration without quotes", "<?xml version=1.0?><a/>"},
    {"declaration with an unknown word", "<?xml version='1.0' encoding='utf-8' foo='1'?><a/>"},
    {"declaration neither standalone nor not", "<?xml version='1.0' standalone='maybe'?><a/>"},
    {"declaration with another encoding and a note", "<?xml version='1.0' encoding='x' note='utf-8'?><a/>"},
    {"instruction with a reserved name", "<a><?XML x?></a>"},
    {"instruction with a bad name", "<a><?x> y?></a>"},
    {"instruction without a name", "<a><? x?></a>"},
    {"noncharacter U+FFFE", "<a>\xEF\xBF\xBE</a>"},
    {"name beginning with a digit", "<1a/>"},
    {"name beginning with a dash", "<-a/>"},
    {"blank before the name", "< a/>"},
    {"blank inside the end mark", "<a></ a>"},
    {"slash apart from the bracket", "<a / >"},
    {"attribute on an end tag", "<a></a b='1'>"},
    {"escape character", "<a>\x1B[2J</a>"},
    {"NUL byte", std::string("<a>\0</a>", 8)},
    {"malformed UTF-8", "<a>\xC3\x28</a>"},
    {"overlong UTF-8", "<a>\xC0\xAF</a>"},
    {"surrogate in UTF-8", "<a>\xED\xA0\x80</a>"},
    {"truncated UTF-8", "<a>\xE2\x82</a>"},
    {"Latin-1 byte", "<a>caf\xE9</a>"},
};

TEST(IllFormed, IsWhatOthersCallIllFormedToo) {
  ASSERT_GE(std::size(both_refuse), 20U);
  for (const auto& text : both_refuse) {
    EXPECT_TRUE(we_refuse(text.content)) << text.name;
    EXPECT_EQ(their_code(text.content), testing::ill_formed) << text.name;
  }
}

// Well-formed XML that we refuse on purpose: what a knowledge or case file never needs, and what makes parsers
// dangerous.
const Text only_we_refuse[] = {
    {"DOCTYPE", "<!DOCTYPE a><a/>"},
    {"DOCTYPE with an entity of its own", "<!DOCTYPE a [<!ENTITY e 'x'>]><a>&e;</a>"},
    {"XML 1.1", "<?xml version='1.1'?><a/>"},
    {"byte-order mark", "\xEF\xBB\xBF<a/>"},
    {"another encoding", "<?xml version='1.0' encoding='ISO-8859-1'?><a>caf\xE9</a>"},
    {"UTF-16", std::string("\xFF\xFE<\0a\0/\0>\0", 10)},
    {"delete character", "<a>\x7F</a>"},
    {"C1 control character", "<a>\xC2\x85</a>"},
    {"reference to a C1 control character", "<a>&#x9B;</a>"},
    {"reference with more zeros than anybody needs", "<a>&#00000000000065;</a>"},
    {"65 levels",
     [] {
       std::string s;
       for (int i = 0; i < 65; ++i) s += "<a>";
       for (int i = 0; i < 65; ++i) s += "</a>";
       return s;
     }()},
    {"257 attributes",
     [] {
       std::string s = "<a";
       for (int i = 0; i < 257; ++i) s += " b" + std::to_string(i) + "=''";
       return s + "/>";
     }()},
    {"attribute of more than 64 KiB", "<a b='" + std::string((64U << 10U) + 1, 'x') + "'/>"},
};

TEST(IllFormed, IsWiderWithUsOnlyByTheWrittenList) {
  for (const auto& text : only_we_refuse) {
    EXPECT_TRUE(we_refuse(text.content)) << text.name;
    EXPECT_EQ(their_code(text.content), testing::well_formed) << text.name;
  }
}

// What we let pass although it is no XML: the scanner takes every sign beyond ASCII for a letter of a name. No element
// or attribute of ours has such a name, so the reader refuses it as unknown; written down so that nobody is surprised.
const Text only_they_refuse[] = {
    {"element name with a sign that is no letter", "<\xC3\x97/>"},
    {"no-break space before an attribute", "<a\xC2\xA0 b='1'/>"},
    {"no-break space behind an attribute name", "<a b\xC2\xA0='1'/>"},
};

TEST(IllFormed, IsWiderWithOthersOnlyByTheWrittenList) {
  for (const auto& text : only_they_refuse) {
    EXPECT_FALSE(we_refuse(text.content)) << text.name;
    EXPECT_EQ(their_code(text.content), testing::ill_formed) << text.name;
  }
}

// A sound file with one to three bytes changed, left out or added.
std::string mutant(const std::string& sound, std::mt19937& bits) {
  static const std::string alphabet = "<>&;\"'=/ !-?[]ax1#:\n";
  const auto below = [&](std::size_t n) { return static_cast<std::size_t>(bits()) % n; };
  std::string content = sound;
  for (auto times = 1 + below(3); times > 0; --times) {
    const auto at = below(content.size());
    const auto kind = below(3);
    if (kind == 0) content[at] = alphabet[below(alphabet.size())];
    if (kind == 1) content.erase(at, 1);
    if (kind == 2) content.insert(at, 1, alphabet[below(alphabet.size())]);
  }
  return content;
}

TEST(IllFormed, IsTheSameToBothForMutantsOfASoundFile) {
  const auto sound = testing::read_file(std::string(LEADLINE_SOURCE_DIR) + "/tests/outside/schema/right.xml");
  std::mt19937 bits(11);
  int refused = 0;
  constexpr int mutants = 400;
  for (int i = 0; i < mutants; ++i) {
    const auto content = mutant(sound, bits);
    const bool ours = we_refuse(content), theirs = their_code(content) != testing::well_formed;
    EXPECT_EQ(ours, theirs) << content;
    refused += ours ? 1 : 0;
  }
  EXPECT_GT(refused, mutants / 4);
  EXPECT_LT(refused, mutants * 9 / 10);
}

const Text both_accept[] = {
    {"empty element", "<a/>"},
    {"declaration", "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<a/>"},
    {"comment before and after", "<!-- x --><a/><!-- y -->"},
    {"instruction", "<a><?x y?></a>"},
    {"CDATA", "<a><![CDATA[1 < 2 & 3]]></a>"},
    {"references", "<a b='&lt;&#65;'>&amp;&#x41;&#9;</a>"},
    {"both quotes", "<a b='\"' c=\"'\"/>"},
    {"umlauts", "<a b='\xC3\xA4'>\xE2\x82\xAC</a>"},
    {"'>' in text", "<a>1 > 2</a>"},
    {"64 levels",
     [] {
       std::string s;
       for (int i = 0; i < 64; ++i) s += "<a>";
       for (int i = 0; i < 64; ++i) s += "</a>";
       return s;
     }()},
};

TEST(IllFormed, IsNotWhatIsWell) {
  for (const auto& text : both_accept) {
    EXPECT_FALSE(we_refuse(text.content)) << text.name;
    EXPECT_EQ(their_code(text.content), testing::well_formed) << text.name;
  }
}

}  // namespace
}  // namespace leadline
