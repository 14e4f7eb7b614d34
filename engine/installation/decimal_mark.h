#pragma once
// pugixml reads number literals with strtod, which follows the thread's locale: under a decimal comma "0.95" would be 0, silently. The program never sets a
// numeric locale, but a host of this library may have. Tested by tests/installation/evaluation_test.cpp.
#include <clocale>

namespace leadline::installation {

class PointAsDecimalMark {
 public:
  PointAsDecimalMark() : c_(newlocale(LC_NUMERIC_MASK, "C", nullptr)), before_(uselocale(c_)) {}
  ~PointAsDecimalMark() {
    uselocale(before_);
    freelocale(c_);
  }
  PointAsDecimalMark(const PointAsDecimalMark&) = delete;
  PointAsDecimalMark& operator=(const PointAsDecimalMark&) = delete;

 private:
  locale_t c_, before_;
};

}  // namespace leadline::installation
