#include "engine/circuit/size_grid.h"

#include <cmath>
#include <numbers>

namespace leadline::circuit {

namespace {

void leave_out_untold(Cell& cell) {
  if (cell.mean.allFinite()) return;
  for (Eigen::Index m = 0; m < cell.mean.size(); ++m) {
    cell.untold.push_back(!std::isfinite(cell.mean(m)));
    if (!cell.untold.back()) continue;
    cell.mean(m) = 0;
    if (cell.width.cols() > 0) cell.width.row(m).setZero();
  }
}

double share_within(const Cell& cell) {
  const auto below = [&](double size) { return 0.5 * std::erfc((cell.sizes[0] - size) / cell.half[0] / std::numbers::sqrt2); };
  return below(1) - below(0);
}

}  // namespace

Eigen::VectorXd told_or_nothing(const Eigen::VectorXd& difference) { return difference.array().isFinite().select(difference, 0.0); }

std::vector<double> SizeGrid::sizes_at(std::size_t corner) const {
  const auto at = split(corner, 1);
  std::vector<double> sizes;
  for (std::size_t f = 0; f < steps.size(); ++f) sizes.push_back(static_cast<double>(at[f]) / static_cast<double>(steps[f]));
  return sizes;
}

std::size_t SizeGrid::corner_of(std::size_t cell) const {
  if (cell < cell_count()) return corner_index(split(cell, 0), 0);
  return cell == cell_count() ? 0 : corner_count() - 1;
}

std::vector<Cell> SizeGrid::cells(bool ends) const {
  std::vector<Cell> cells;
  for (std::size_t c = 0; c < cell_count(); ++c) cells.push_back(cell(c));
  if (ends) cells.insert(cells.end(), {beyond(false), beyond(true)});
  for (auto& cell : cells) {
    cell.ends = ends;
    cell.weight = ends ? share_within(cell) : 1;
  }
  return cells;
}

// The mean is that of the corners less a twelfth of how the readings bend there; its width half of the edges, and what the bend leaves between
// curve and chord as one column more.
Cell SizeGrid::cell(std::size_t index) const {
  const auto at = split(index, 0);
  const auto measures = corners[0].size(), faults = static_cast<Eigen::Index>(steps.size());
  Cell cell{1, Eigen::VectorXd::Zero(measures), Eigen::MatrixXd::Zero(measures, faults + (faults > 0 ? 1 : 0)), {}, {}, false, {}, {}, {}};
  const std::size_t count = std::size_t{1} << steps.size();
  for (std::size_t corner = 0; corner < count; ++corner) {
    const auto& reading = corners[corner_index(at, corner)];
    cell.mean += reading / static_cast<double>(count);
    for (Eigen::Index f = 0; f < faults; ++f) cell.width.col(f) += ((corner >> f & 1) != 0 ? 1 : -1) * reading / static_cast<double>(count);
  }
  for (std::size_t f = 0; f < steps.size(); ++f) {
    const Eigen::VectorXd bent = bend(at, f);
    cell.mean -= bent / 12;
    cell.width.col(faults) += bent / 24;
    cell.sizes.push_back((static_cast<double>(at[f]) + 0.5) / static_cast<double>(steps[f]));
    cell.half.push_back(0.5 / static_cast<double>(steps[f]));
  }
  leave_out_untold(cell);
  return cell;
}

// The readings go on as they bend at that end; where something comes to stand still within the last cell they stay as they are at its end.
Cell SizeGrid::beyond(bool upper) const {
  const auto last = steps[0] - 1;
  auto beyond = cell(upper ? last : 0);
  const double way = upper ? 1 : -1;
  const bool jumps = upper ? idle[last] != idle[last + 1] : idle[0] != idle[1];
  if (jumps) {
    beyond.mean = told_or_nothing(upper ? corners.back() : corners.front());
    beyond.width.setZero();
  } else {
    const Eigen::VectorXd change = 2 * beyond.width.col(0), bent = 24 * beyond.width.col(1);
    beyond.mean += way * change + bent;
    beyond.width.col(0) += way * bent / 2;
  }
  beyond.sizes[0] += way / static_cast<double>(steps[0]);
  return beyond;
}

std::size_t SizeGrid::product(std::size_t more) const {
  std::size_t count = 1;
  for (const auto step : steps) count *= step + more;
  return count;
}

std::vector<std::size_t> SizeGrid::split(std::size_t index, std::size_t more) const {
  std::vector<std::size_t> at(steps.size());
  for (std::size_t f = steps.size(); f-- > 0;) {
    at[f] = index % (steps[f] + more);
    index /= steps[f] + more;
  }
  return at;
}

// Bit f of `corner`: the upper end of fault f.
std::size_t SizeGrid::corner_index(const std::vector<std::size_t>& at, std::size_t corner) const {
  std::size_t index = 0;
  for (std::size_t f = 0; f < steps.size(); ++f) index = index * (steps[f] + 1) + at[f] + (corner >> f & 1);
  return index;
}

// Second difference along one fault, the mean of those at the cell's two ends that have neighbours. Where something comes to stand still
// the readings jump: that is no bend.
Eigen::VectorXd SizeGrid::bend(std::vector<std::size_t> at, std::size_t fault) const {
  Eigen::VectorXd sum = Eigen::VectorXd::Zero(corners[0].size());
  double count = 0;
  const auto cell_at = at[fault];
  const auto corner_at = [&](std::size_t step) {
    at[fault] = step;
    return corner_index(at, 0);
  };
  for (const auto middle : {cell_at, cell_at + 1}) {
    if (middle == 0 || middle >= steps[fault]) continue;
    const auto before = corner_at(middle - 1), here = corner_at(middle), after = corner_at(middle + 1);
    if (idle[before] != idle[here] || idle[here] != idle[after]) continue;
    sum += told_or_nothing(corners[before] - 2 * corners[here] + corners[after]);
    ++count;
  }
  return count > 0 ? Eigen::VectorXd(sum / count) : sum;
}

}  // namespace leadline::circuit
