// Builds each exported base as a general Bayesian network and compares its beliefs with the engine's.
// Causes are roots; a finding's noisy-MAX is written out as a full table; soft evidence is a virtual child observed "yes";
// "something is wrong" is an OR child observed "yes". Nothing of the engine's arithmetic is used here.
// Usage: node compare.mjs FOLDER-WITH-NODE-MODULES EXPORTED.json
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import path from 'node:path';

const [modulesFolder, exported] = process.argv.slice(2);
const { infer } = createRequire(path.join(path.resolve(modulesFolder), 'package.json'))('bayesjs');

const TOLERANCE = 1e-9;
const LEAST_BASES = 24;
const YES_NO = ['yes', 'no'];
const causeName = (i) => `cause${i}`;
const findingName = (j) => `finding${j}`;

const combinations = (names) =>
  names.reduce((rows, name) => rows.flatMap((row) => YES_NO.map((state) => ({ ...row, [name]: state }))), [{}]);

const byState = (chances) => Object.fromEntries(chances.map((chance, s) => [`s${s}`, chance]));

const root = (prior) => ({ states: YES_NO, parents: [], cpt: { yes: prior, no: 1 - prior } });

// P(finding | causes), by definition: the strongest of the independent pushes is seen. Written with pushes as states drawn one after
// the other, not with products of cumulative chances as the engine does.
const strongest = (first, second) => {
  const drawn = first.map(() => 0);
  first.forEach((p, s) => second.forEach((q, t) => { drawn[Math.max(s, t)] += p * q; }));
  return drawn;
};
const differences = (atMost) => atMost.map((value, s) => value - (s > 0 ? atMost[s - 1] : 0));

const finding = (base, j) => {
  const leak = differences(base.leaks[j]);
  const pushes = base.causes.flatMap((cause, i) =>
    cause.pushes.filter((push) => push.finding === j).map((push) => ({ name: causeName(i), chances: differences(push.atMost) })));
  const states = leak.map((_, s) => `s${s}`);
  if (pushes.length === 0) return { states, parents: [], cpt: byState(leak) };
  const names = pushes.map((push) => push.name);
  const cpt = combinations(names).map((when) => {
    const present = pushes.filter((push) => when[push.name] === 'yes');
    return { when, then: byState(present.reduce((seen, push) => strongest(seen, push.chances), leak)) };
  });
  return { states, parents: names, cpt };
};

const virtualChild = ({ finding: j, likelihood }) => {
  const scale = Math.max(...likelihood);
  const cpt = likelihood.map((value, s) => ({ when: { [findingName(j)]: `s${s}` }, then: { yes: value / scale, no: 1 - value / scale } }));
  return { states: YES_NO, parents: [findingName(j)], cpt };
};

const anyOf = (names) => ({
  states: YES_NO,
  parents: names,
  cpt: combinations(names).map((when) => {
    const wrong = names.some((name) => when[name] === 'yes') ? 1 : 0;
    return { when, then: { yes: wrong, no: 1 - wrong } };
  }),
});

const networkOf = (base) => {
  const nodes = {};
  const given = {};
  const names = base.causes.map((_, i) => causeName(i));
  base.causes.forEach((cause, i) => { nodes[causeName(i)] = root(cause.prior); });
  base.leaks.forEach((_, j) => { nodes[findingName(j)] = finding(base, j); });
  base.evidence.forEach((observation) => {
    const hard = observation.likelihood.filter((value) => value > 0).length === 1;
    const name = findingName(observation.finding);
    if (hard) {
      given[name] = `s${observation.likelihood.findIndex((value) => value > 0)}`;
    } else {
      nodes[`said-${name}`] = virtualChild(observation);
      given[`said-${name}`] = 'yes';
    }
  });
  if (base.somethingIsWrong) {
    nodes.wrong = anyOf(names);
    given.wrong = 'yes';
  }
  Object.entries(nodes).forEach(([id, node]) => { node.id = id; });
  return { nodes, given };
};

const bases = JSON.parse(readFileSync(exported, 'utf8'));
const counts = { bases: 0, beliefs: 0, soft: 0, wrong: 0, manyStates: 0 };
let worst = 0;
const failures = [];
bases.forEach((base, b) => {
  const { nodes, given } = networkOf(base);
  counts.bases += 1;
  counts.soft += Object.keys(given).some((name) => name.startsWith('said-')) ? 1 : 0;
  counts.wrong += base.somethingIsWrong ? 1 : 0;
  counts.manyStates += base.leaks.some((leak) => leak.length > 2) ? 1 : 0;
  base.causes.forEach((_, i) => {
    const theirs = infer(nodes, { [causeName(i)]: 'yes' }, given);
    const difference = typeof base.beliefs[i] === 'number' ? Math.abs(theirs - base.beliefs[i]) : NaN;
    counts.beliefs += 1;
    if (!(difference <= worst)) worst = difference; // a NaN stays
    if (!(difference <= TOLERANCE)) failures.push(`base ${b}, cause ${i}: engine ${base.beliefs[i]}, bayesjs ${theirs}`);
  });
});

console.log(`${counts.bases} bases compared (${counts.soft} with soft evidence, ${counts.wrong} with "something is wrong", ` +
  `${counts.manyStates} with findings of more than two states), ${counts.beliefs} beliefs; worst difference ${worst}`);
failures.forEach((line) => console.error(line));
if (counts.bases < LEAST_BASES) console.error(`fewer than ${LEAST_BASES} bases were compared`);
if (counts.soft === 0 || counts.wrong === 0 || counts.manyStates === 0) console.error('some kind of base is not among them');
process.exit(failures.length > 0 || counts.bases < LEAST_BASES || counts.soft === 0 || counts.wrong === 0 || counts.manyStates === 0 ? 1 : 0);
