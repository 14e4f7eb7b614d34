#pragma once
// Readings of one boat at the corners of a grid of sizes of no, one or two faults, and the cells between them. The mathematics:
// docs/mathematics.md § tied readings. Internal to the expectation; tested by tests/circuit/outlook_test.cpp.
#include <vector>

#include "engine/circuit/outlook.h"

namespace leadline::circuit {

// Differences to what cannot be told are none.
Eigen::VectorXd told_or_nothing(const Eigen::VectorXd& difference);

struct SizeGrid {
  std::vector<std::size_t> steps;              // by fault
  std::vector<Eigen::VectorXd> corners;        // [first * (steps of second + 1) + second]; not a number: cannot be told there
  std::vector<std::vector<std::size_t>> idle;  // by corner: what stands still there

  std::size_t cell_count() const { return product(0); }
  std::size_t corner_count() const { return product(1); }
  std::vector<double> sizes_at(std::size_t corner) const;

  // Every cell, weighing how much of its normal lies within the range of sizes. `ends`, of one fault only: after them a cell beyond each end;
  // what of it reaches back in fills up where the last cell fades out.
  std::vector<Cell> cells(bool ends) const;
  // A corner of that cell: its first, or the end that it stands beyond.
  std::size_t corner_of(std::size_t cell) const;

 private:
  Cell cell(std::size_t index) const;
  Cell beyond(bool upper) const;
  std::size_t product(std::size_t more) const;
  std::vector<std::size_t> split(std::size_t index, std::size_t more) const;
  std::size_t corner_index(const std::vector<std::size_t>& at, std::size_t corner) const;
  Eigen::VectorXd bend(std::vector<std::size_t> at, std::size_t fault) const;
};

}  // namespace leadline::circuit
