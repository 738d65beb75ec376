# SciPy asked for the same spares: 1,000 random parts, their levels equal, all figures within a relative
# 1e-9. Parts of one stream by its negative binomial distribution (cdf, sf, ppf, pmf), those of several by
# numpy's convolution of the pmfs. The path of the program referee_spares is the one argument.

import subprocess
import sys
import unittest

import numpy
from scipy.stats import nbinom

PARTS = 1000
WITHIN = 1e-9
# Below this a double has no nine digits left of what either side leaves out.
LEAST = 1e-15


def log_uniform(random, low, high):
    return float(numpy.exp(random.uniform(numpy.log(low), numpy.log(high))))


def random_part(random):
    """A part, its mean demand between .001 and some hundreds."""
    streams = []
    for _ in range(random.choice([1, 1, 1, 2, 3, 5, 12])):
        shape = log_uniform(random, .1, 100)
        exposure = log_uniform(random, 1, 1000)
        # Items, times the share of their events that end in this part.
        takes = int(random.integers(1, 40)) * float(random.uniform(.05, 1))
        streams.append((shape, exposure, takes))
    part = {
        'streams': streams,
        'years': log_uniform(random, .02, 1),
        'batch': int(random.choice([1, 1, 1, 2, 3, 10])),
        'service': 1 - log_uniform(random, 1e-5, .5),
        'holding': log_uniform(random, .1, 10),
        'lacking': log_uniform(random, 1, 1000),
    }
    spread = mean_of(part) + 3 * variance_of(part) ** .5
    part['level'] = int(random.integers(0, 2 + int(spread)))
    return part


def odds_of(part):
    return [(shape, takes * part['years'] / exposure) for shape, exposure, takes in part['streams']]


def mean_of(part):
    return sum(shape * odds for shape, odds in odds_of(part))


def variance_of(part):
    return sum(shape * odds * (1 + odds) for shape, odds in odds_of(part))


class Right:
    """What SciPy and numpy say of a part."""

    def __init__(self, part):
        self.part = part
        laws = [nbinom(shape, 1 / (1 + odds)) for shape, odds in odds_of(part)]
        # Enough terms, and then some, for the tail of each.
        terms = int(sum(law.isf(1e-30) for law in laws)) + part['level'] + part['batch'] + 60
        self.count = numpy.arange(terms)
        if len(laws) == 1:
            self.law = laws[0]
            with numpy.errstate(divide='ignore'):  # far out, where the chance is 0
                self.chance = laws[0].pmf(self.count)
            self.at_most = laws[0].cdf(self.count)
            self.more = laws[0].sf(self.count)
        else:
            self.law = None
            self.chance = numpy.ones(1)
            for law in laws:
                # Terms too small to count in a sum of which each part is positive.
                own = numpy.arange(int(law.isf(1e-30)) + 2)
                self.chance = numpy.convolve(self.chance, law.pmf(own))
            self.chance = numpy.pad(self.chance, (0, max(0, terms - len(self.chance))))[:terms]
            self.at_most = numpy.cumsum(self.chance)
            self.more = numpy.append(numpy.cumsum(self.chance[::-1])[::-1][1:], 0)
        # The mean number lacking is what the tails from the level on add up to.
        self.short = numpy.cumsum(self.more[::-1])[::-1]
        self.left = numpy.concatenate(([0], numpy.cumsum(self.at_most)[:-1]))

    def over_batch(self, values):
        """The mean of values over the positions from each level on."""
        batch = self.part['batch']
        return numpy.convolve(values, numpy.ones(batch) / batch, mode='valid')

    def service_level(self):
        if self.law is not None and self.part['batch'] == 1:
            return int(self.law.ppf(self.part['service']))
        return int(numpy.argmax(self.over_batch(self.more) <= 1 - self.part['service']))

    def cheapest_level(self):
        return int(numpy.argmin(self.cost()))

    def cost(self):
        return (self.part['holding'] * self.over_batch(self.left)
                + self.part['lacking'] * self.over_batch(self.short))

    def figures(self):
        level = self.part['level']
        return {
            'mean': mean_of(self.part), 'variance': variance_of(self.part),
            'chance': self.chance[level], 'at most': self.at_most[level], 'more': self.more[level],
            'short': self.short[level], 'left': self.left[level],
            'chance out': self.over_batch(self.more)[level],
            'short with batch': self.over_batch(self.short)[level],
            'held': self.over_batch(self.left)[level], 'cost': self.cost()[level],
        }


NAMES = ['mean', 'variance', 'service level', 'cheapest level', 'chance', 'at most', 'more', 'short',
         'left', 'chance out', 'short with batch', 'held', 'cost']


def ours_of(parts, program):
    lines = []
    for part in parts:
        words = [part['years'], part['batch'], part['service'], part['holding'], part['lacking'],
                 part['level']]
        for stream in part['streams']:
            words.extend(stream)
        lines.append(' '.join(repr(word) for word in words) + '\n')
    out = subprocess.run([program], input=''.join(lines), capture_output=True, text=True, check=True)
    return [dict(zip(NAMES, map(float, line.split()), strict=True)) for line in out.stdout.splitlines()]


class Spares(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        random = numpy.random.default_rng(20240801)
        cls.parts = [random_part(random) for _ in range(PARTS)]
        cls.ours = ours_of(cls.parts, PROGRAM)

    def test_levels_are_equal_and_figures_agree(self):
        self.assertEqual(len(self.ours), PARTS)
        worst = 0
        compared = 0
        for index, (part, ours) in enumerate(zip(self.parts, self.ours)):
            right = Right(part)
            self.assertEqual(ours['service level'], right.service_level(), (index, part))
            self.assertEqual(ours['cheapest level'], right.cheapest_level(), (index, part))
            for name, figure in right.figures().items():
                if figure < LEAST:
                    self.assertLess(ours[name], 2 * LEAST, (index, name, part))
                    continue
                off = abs(ours[name] / figure - 1)
                self.assertLessEqual(off, WITHIN, (index, name, figure, ours[name], part))
                worst = max(worst, off)
                compared += 1
        self.assertGreater(compared, 9 * PARTS)
        print(f'{PARTS} parts, {compared} figures, the worst off by {worst:.2g}')

    def test_parts_are_of_all_sorts(self):
        single = [part for part in self.parts if len(part['streams']) == 1]
        self.assertGreater(len(single), 300)
        self.assertGreater(PARTS - len(single), 300)
        self.assertGreater(sum(part['batch'] > 1 for part in self.parts), 300)
        self.assertGreater(sum(mean_of(part) > 20 for part in self.parts), 50)
        self.assertGreater(sum(mean_of(part) < .5 for part in self.parts), 50)


if __name__ == '__main__':
    PROGRAM = sys.argv.pop(1)
    unittest.main()
