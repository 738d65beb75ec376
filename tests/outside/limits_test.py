# Large installations, and too large ones: an answer, or one clear line, within 500 MB and 5 s.
# The path of the program whichlink is the one argument.

import os
import pathlib
import resource
import subprocess
import sys
import tempfile
import time
import unittest

MEMORY = 500 << 20
SECONDS = 5
# On a machine that does other things at the same time; the figures are printed.
GUARD = 6 * SECONDS


def installation(routes=1, wires=0, loose=0, comment=0):
    """So many push buttons, each a route of its own; a length of wires lies in the first, loose ones in no route."""
    places = [f'room {number}' for number in range(2 + max(routes // 100, wires // 400, loose // 400))]
    parts = {place: [] for place in places}
    fixed, plugged, ways = [], [], []
    for number in range(routes):
        here = parts[places[number // 100]]
        here += [f'input {number}: response input', f'jack {number}: phone jack', f'button {number}: response button']
        chain = [f'input {number}']
        if number == 0:
            for wire in range(wires):
                parts[places[wire // 400]].append(f'wire {wire}: panel wire')
                chain.append(f'wire {wire}')
        chain.append(f'jack {number}')
        fixed += [f'[{one}, {other}]' for one, other in zip(chain, chain[1:])]
        plugged.append(f'[button {number}.plug, jack {number}]')
        ways.append(f'button {number}: {{from: input {number}, to: button {number}.switch, signal: button}}')
    for number in range(loose):
        parts[places[1 + number // 400]].append(f'loose {number}: panel wire')
    lines = ['installation: Large', 'about: Made by a test.', 'rules: hearing', 'source: judged', 'people: 1',
             'start: room 0', f'places: [{", ".join(places)}]', 'walking:']
    lines += [f'  - {{between: [{one}, {other}], minutes: 1}}'
              for index, one in enumerate(places) for other in places[index + 1:]]
    lines.append('parts:')
    for place in places:
        lines.append(f'  {place}:')
        lines += ['    ' + part for part in parts[place]]
    lines += ['fixed:', *('  - ' + one for one in fixed), 'plugged:', *('  - ' + one for one in plugged), 'routes:',
              *('  ' + one for one in ways)]
    return '\n'.join(lines) + '\n' + '# what is what\n' * (comment // 15)


class Limits(unittest.TestCase):
    def setUp(self):
        self.scratch = tempfile.TemporaryDirectory(prefix='whichlink-limits-')
        self.file = pathlib.Path(self.scratch.name, 'large.yaml')

    def tearDown(self):
        self.scratch.cleanup()

    def run_it(self, text, *words):
        self.file.write_text(text)

        def bounded():
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        began = time.monotonic()
        ran = subprocess.run([PROGRAM, *words], cwd=self.scratch.name, input='', capture_output=True, text=True,
                             preexec_fn=bounded, env={**os.environ, 'LC_ALL': 'C.UTF-8', 'XDG_DATA_HOME': '.'})
        took = time.monotonic() - began
        print(f'{" ".join(words)[:60]}: {len(text) / 1e6:.1f} MB, {took:.1f} s, code {ran.returncode}')
        self.assertLess(took, GUARD)
        return ran

    def answers(self, text, *words):
        ran = self.run_it(text, *words)
        self.assertEqual(ran.returncode, 0, ran.stderr[:300])
        self.assertTrue(ran.stdout)
        return ran.stdout

    def refuses(self, line, text, *words):
        ran = self.run_it(text, *words)
        self.assertEqual((ran.returncode, ran.stdout), (2, ''))
        self.assertEqual(ran.stderr.count('\n'), 1, ran.stderr[:300])
        self.assertRegex(ran.stderr, line)

    def test_as_many_routes_as_there_may_be(self):
        text = installation(routes=200)
        self.assertIn('200 routes', self.answers(text, 'survey', 'large.yaml'))
        about = ['--model', 'large.yaml', '--route', 'button 7', '--heard', 'dead']
        self.answers(text, 'rank', *about)
        self.answers(text, 'isolate', *about)
        self.answers(text, 'check', '--model', 'large.yaml')

    def test_more_routes_are_refused(self):
        self.refuses(r'^large\.yaml:\d+:3: too many names; expected at most 200$', installation(routes=1000), 'survey',
                     'large.yaml')

    def test_a_route_as_long_as_it_may_be(self):
        text = installation(wires=995)
        self.answers(text, 'survey', 'large.yaml')
        self.answers(text, 'rank', '--model', 'large.yaml', '--route', 'button 0', '--heard', 'dead')

    def test_a_longer_route_is_refused(self):
        for wires in (1000, 4500):
            self.refuses(r'^large\.yaml:\d+:3: the way from "input 0" passes \d+ elements; expected at most 1000$',
                         installation(wires=wires), 'survey', 'large.yaml')

    def test_five_megabytes(self):
        text = installation(routes=3, comment=5 << 20)
        self.assertGreater(len(text), 5e6)
        self.assertIn('3 routes', self.answers(text, 'survey', 'large.yaml'))
        self.refuses(r'^large\.yaml: the file is too large; expected at most 8 MB$', installation(comment=9 << 20),
                     'survey', 'large.yaml')

    def test_ten_thousand_elements(self):
        text = installation(routes=10, loose=9900)
        self.assertIn('10 routes', self.answers(text, 'survey', 'large.yaml'))
        about = ['--model', 'large.yaml', '--route', 'button 7', '--heard', 'dead']
        self.answers(text, 'rank', *about)
        self.answers(text, 'isolate', *about)
        self.refuses(r'^large\.yaml:\d+:5: the installation has too many lanes in all; expected at most 10000$',
                     installation(loose=10000), 'survey', 'large.yaml')


if __name__ == '__main__':
    PROGRAM = sys.argv.pop(1)
    unittest.main()
