# Each schema of a file against the reader of that file: what is shipped is valid, and thousands of files
# with one thing wrong each are refused by both or taken by both. What a schema cannot say is named below.
# The path of the program schema_verdicts is the one argument.

import collections
import copy
import json
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

import schemas
from schemas import ROOT

GOOD = ROOT / 'tests' / 'load' / 'good'
RULES = GOOD / 'doorbell.yaml'

# Complaints that need more than the shape of the file: the schema may take what the reader refuses so.
UNSAYABLE = [
    ('a name that must be known', r'^there is no |^unknown (aim|route)|^".*" is no partner of '),
    ('a number without a source', r' has no source$'),
    ('chances that add up', r'add up to'),
    ('an order of numbers', r'is not above |out of order|begins above its end|is none of the choices'),
    ('a reference beyond the limits', r'^a reference at .* without a limit$'),
    ('the right report among mistakes, nothing wrong among alarms',
     r'^the right report among |is no alarm: it means'),
    ('a name or a key of its own', r'is there already$|answers another symptom already|'
     r'^two places are called|is a symptom already$|is joined already|are joined already'),
    ('what a name stands for', r'is a part of several pieces|has no (lane|piece)|has several lanes|'
     r'has no single way|too many full stops|is a spare, which|has no named lanes|'
     r'^a (jack|plug) |stands before the plug|is (neither|a) (plug|jack)|does not go into|lanes of|'
     r'^a single lane|joint of|closes a ring|different numbers of lanes|'
     r'^a plug in its jack is no fixed joint|^a connector of something'),
    ('how ways are joined', r'cannot be plugged together|that is joined for good|no signal (starts|comes)|'
     r'ends here, where no|^the way from |under `switched`|^no way between|does not say the same|'
     r'^a route paired with itself|only one route of a pair|both routes of a pair|this way is there already|'
     r'is plugged (there|into)|holds .* already|^thresholds for a sense without levels|'
     r'^two joints|moved already|no "use"$'),
]


def class_of(line):
    what = line.split(': ', 1)[1] if ': ' in line else line
    what = re.sub(r'^.*?:\d+:\d+: ', '', line).split('; ')[0]
    for name, pattern in UNSAYABLE:
        if re.search(pattern, what):
            return name
    return None


class Readers:
    """The program that says what the readers say."""

    def __init__(self, program, rules):
        """@param rules  the file of the rules that installations are read with"""
        self.rules = rules
        self.child = subprocess.Popen([program], stdin=subprocess.PIPE, stdout=subprocess.PIPE)

    def problems(self, kind, value):
        text = json.dumps(value, ensure_ascii=False).encode()
        self.child.stdin.write(f'{kind} {len(text)} {self.rules}\n'.encode() + text)
        self.child.stdin.flush()
        lines = []
        while (line := self.child.stdout.readline().decode().rstrip('\n')) != '.':
            if not line:
                raise RuntimeError('the readers fell silent')
            lines.append(line)
        return lines

    def close(self):
        self.child.stdin.close()
        return self.child.wait()


def whole_rules():
    whole = schemas.read(RULES)
    for key, more in schemas.read(ROOT / 'tests/schemas/more-rules.yaml').items():
        whole[key] = {**whole.get(key, {}), **more}
    return whole


LESSONS = {
    'lessons for': 'doorbells', 'about': 'Some.', 'source': 'judged',
    'lessons': {'first': {
        'goal': 'Find it.', 'hint': 'Where?', 'teaches': 'splitting',
        'cases': {
            'known': {'words': 'It rained.', 'model': 'two-doors', 'route': 'left door', 'heard': 'silent',
                      'listener': 'new', 'days since pass': 3, 'seed': 60, 'missing': ['spare cord'],
                      'hidden': [{'fault': 'wire: chewed', 'showing': True}],
                      'crossed': ['left cord.near plug', 'right cord.near plug']},
            'drawn': {'model': 'two-doors', 'route': 'left door', 'drawn': True}}}}}
STORES = {
    'stores': 'Cupboard', 'source': 'judged', 'fetch days': 1, 'money': {'name': 'EUR', 'a minute': .8},
    'sites': [{'installation': 'single-room', 'rooms': 12}, {'installation': 'two-room-booth'}],
    'parts': {'cord': {'price': 14.5, 'lead days': 5, 'ready days': 2, 'shelf days': 700, 'service': .98,
                       'on hand': 1, 'on order': 2, 'order at least': 3}}}


def whole_installation():
    one = schemas.read(GOOD / 'two-doors.yaml')
    one['prices'] = {'miss minutes': 90, 'service minutes': 45, 'source': 'judged'}
    one['meter'] = False
    one['days since pass'] = 14
    one['use'] = {'sessions a day': 6, 'days a year': 200, 'spoilt session minutes': 45, 'source': 'judged'}
    return one


def whole_case():
    one = {**schemas.read(GOOD / 'heard.yaml'), 'aim': 'split'}
    one['complaint']['drop db'] = 12.5
    return one


def places(value, where=()):
    """Every value in it, by its keys and indices."""
    yield where, value
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from places(inner, where + (key,))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from places(inner, where + (index,))


def inside(value, where):
    for step in where:
        value = value[step]
    return value


def changed(value, where, change):
    """A copy with the mapping or list at a place changed."""
    if not where:
        result = copy.copy(value)
        change(result)
        return result
    result = copy.copy(value)
    result[where[0]] = changed(value[where[0]], where[1:], change)
    return result


KEYS = {key for name in schemas.SCHEMAS for _, _, key in schemas.properties_of(name)}
LONG_NAME, LONG_TEXT = 'n' * 61, 't' * 1001
ALWAYS = [None, 'text', '', -1, 10 ** 9 + 1, [], {}]
OTHERS = ['a.b', 'a:b', 'a/b', ' lead', 'trail ', 'two\nlines', 'end\n', 'bell\x07', LONG_NAME,
          LONG_TEXT, '{it} and {one}', '{that}', 'true', True, 0, 1, 2, .5, 1.5, 7, 61, 121, 367, 10 ** 5 + 1,
          -10001, ['text'], ['text', 'text'], ['a', 'b', 'c'], {'text': 'text'}, {'text': 1},
          {'source': 'judged'}, [None], 'plug', 'source', 'left', 'lane', 'not sure', '?', 'replug']


def put(key, other):
    def change(mapping):
        mapping[key] = other
    return change


def renamed(key, other):
    def change(mapping):
        items = list(mapping.items())
        mapping.clear()
        mapping.update((other if name == key else name, value) for name, value in items)
    return change


def kinds_of_places(value):
    """Places of all kinds, the first of each: names of the file's own choosing stand for one another."""
    met = set()
    for where, inner in places(value):
        kind = tuple(min(step, 1) if isinstance(step, int) else step if step in KEYS else '*' for step in where)
        if where and kind not in met:
            met.add(kind)
            yield where, inner


def slips(value):
    """Files with one thing wrong, or at least changed: what was done, and the file."""
    for number, (where, inner) in enumerate(kinds_of_places(value)):
        outer, key = where[:-1], where[-1]
        said = '/'.join(map(str, where))
        for other in ALWAYS + OTHERS[number % 3::3]:
            if other != inner or type(other) is not type(inner):
                yield f'{said} is {str(other)[:20]!r}', changed(value, outer, put(key, other))
        if isinstance(key, str):
            yield f'{said} dropped', changed(value, outer, lambda mapping, key=key: mapping.pop(key))
            for other in (key + 'x', '', ' ' + key, key + '.x', LONG_NAME, 'not sure', 'replug', 'source', 'a\tb'):
                if other not in inside(value, outer):
                    yield f'{said} renamed {other[:20]!r}', changed(value, outer, renamed(key, other))
        else:
            yield f'{said} dropped', changed(value, outer, lambda items, key=key: items.pop(key))
            yield f'{said} twice', changed(value, outer, lambda items, one=inner: items.append(one))
        if isinstance(inner, dict):
            for name, more in (('surplus', 1), ('source', 5), ('source', ['judged'])):
                if name not in inner or name == 'source':
                    yield f'{said} with {name} {more}', changed(value, where, put(name, more))


SMALL = {**schemas.read(ROOT / 'tests/fuzz/corpus/rules/small.yaml')}


def without_the_rest(slip, value):
    """Rules with what is as it was left out or put in short: a tenth of the time for the same answer."""
    short = {}
    for key in slip:
        if key in ('meter', 'handling') or slip[key] is not value.get(key):
            short[key] = slip[key]
        elif key in SMALL:
            short[key] = SMALL[key]
    return short


class Inputs(unittest.TestCase):
    WHOLE = {'rules': whole_rules, 'installation': whole_installation, 'case': whole_case,
             'stores': lambda: STORES, 'lessons': lambda: LESSONS}

    def setUp(self):
        self.folder = tempfile.TemporaryDirectory(prefix='whichlink-schemas-')
        rules = f'{self.folder.name}/rules.yaml'
        pathlib.Path(rules).write_text(json.dumps(whole_rules()))
        self.readers = Readers(PROGRAM, rules)

    def tearDown(self):
        self.folder.cleanup()
        self.assertEqual(self.readers.close(), 0)
        self.readers.child.stdout.close()

    def test_what_is_shipped_is_valid(self):
        kinds = {
            'rules': ['rules/*.yaml', 'tests/load/good/doorbell.yaml', 'tests/fuzz/corpus/rules/small.yaml'],
            'installation': ['models/*.yaml', 'tests/load/good/two-doors.yaml'],
            'lessons': ['rules/lessons/*.yaml', 'tests/cases/fault-that-is-not-there.yaml'],
            'stores': ['tests/cases/cupboard.yaml'],
            'case': ['tests/load/good/heard.yaml', 'tests/fuzz/corpus/case/quoted.yaml',
                     'tests/fuzz/corpus/case/heard.yaml']}
        count = 0
        for kind, patterns in kinds.items():
            for pattern in patterns:
                files = sorted(ROOT.glob(pattern))
                self.assertTrue(files, pattern)
                for file in files:
                    self.assertEqual(schemas.problems(kind, schemas.read(file)), [], file)
                    count += 1
        self.assertGreaterEqual(count, 15)

    def test_whole_files_hold_every_key_of_their_schema(self):
        for kind, whole in self.WHOLE.items():
            seen = schemas.Seen()
            value = whole()
            self.assertEqual(self.readers.problems(kind, value), [], kind)
            self.assertEqual(schemas.problems(kind, value, seen), [], kind)
            for name in {kind, 'common'} if kind == 'rules' else {kind}:
                for where, schema, key in schemas.properties_of(name):
                    if key == 'source' or schema['properties'][key].get('type') == 'null':
                        continue
                    met = (id(schema['properties']), key) in seen.met
                    self.assertTrue(met, f'{name}{where}: {key}')

    def test_slips_are_refused_by_both_or_taken_by_both(self):
        counts = collections.Counter()
        wrong = []
        for kind, whole in self.WHOLE.items():
            validator = schemas.validator_of(kind)
            value = whole()
            for said, slip in slips(value):
                complaints = self.readers.problems(kind, slip)
                valid = validator.is_valid(without_the_rest(slip, value) if kind == 'rules' else slip)
                classes = {class_of(line) for line in complaints}
                if not complaints:
                    counts['taken by both'] += valid
                    if not valid:
                        error = next(validator.iter_errors(slip)).message[:90]
                        wrong.append(f'{kind} {said}: the schema alone refuses it: {error}')
                elif None in classes:
                    counts['refused by both'] += not valid
                    if valid:
                        bad = next(line for line in complaints if class_of(line) is None)
                        wrong.append(f'{kind} {said}: the reader alone refuses it: {bad}')
                else:
                    for name in classes:
                        counts[name] += 1
        for name, count in counts.most_common():
            print(f'{count:6}  {name}')
        self.assertEqual('\n'.join(wrong[:40]), '', f'{len(wrong)} in all')
        self.assertGreater(counts['taken by both'], 1000)
        self.assertGreater(counts['refused by both'], 10000)
        for name, _ in UNSAYABLE:
            self.assertGreater(counts[name], 0, name)


if __name__ == '__main__':
    PROGRAM = sys.argv.pop(1)
    unittest.main()
