# Every JSON output of the program against its schema, over many runs; and the other way round: each property
# that a schema names was seen in some output, and left out of one where it need not be there.
# The path of the program whichlink is the one argument.

import json
import os
import pathlib
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
import unittest

import schemas
from schemas import ROOT

CASES = ROOT / 'tests' / 'cases'
MODELS = {
    'single-room': ['left phone', 'bone', 'button'],
    'two-room-booth': ['left phone', 'left insert', 'talkback'],
    'screening-set': ['right phone', 'button'],
    'small-stage': None,  # its routes, as survey lists them
}
# Missing only where the rules do not say how much an installation is used; all that are shipped do.
WITH_USE = ['stock: days_lost_with_what_is_there', 'stock: curve']
OUTPUTS = ['check', 'drill', 'interval', 'isolate', 'log', 'lookback', 'output', 'rank', 'rates', 'stock', 'survey',
           'tables', 'trial']


class Outputs(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.seen = schemas.Seen()
        cls.count = 0
        cls.scratch = tempfile.TemporaryDirectory(prefix='whichlink-schemas-')
        cls.folder = cls.scratch.name
        for name in ('sessions.txt', 'cupboard.yaml'):
            shutil.copy(CASES / name, cls.folder)

    @classmethod
    def tearDownClass(cls):
        cls.scratch.cleanup()

    def run_it(self, line, answers=None):
        words = shlex.split(line)
        if answers is not None:
            pathlib.Path(self.folder, 'answers.txt').write_text(''.join(one + '\n' for one in answers))
            words += ['--answers', 'answers.txt']
        return subprocess.run([PROGRAM, *words], cwd=self.folder, capture_output=True, text=True, input='',
                              env={**os.environ, 'LC_ALL': 'C.UTF-8', 'XDG_DATA_HOME': self.folder})

    def out(self, reference, line, answers=None):
        """The output of a command, which must be valid."""
        ran = self.run_it(line + ' --json', answers)
        self.assertEqual(ran.returncode, 0, f'{line}: {ran.stderr}')
        value = json.loads(ran.stdout)
        self.assertEqual(schemas.problems(reference, value, self.seen), [], line)
        if '#' in reference:  # one of the shapes, and no other
            name = reference.split('#')[0]
            self.assertEqual(schemas.problems(name, value), [], line)
        type(self).count += 1
        return value

    def routes_of(self, model):
        survey = self.out('survey', f'survey {model}')
        self.assertTrue(survey['routes'])
        routes = [route['route'] for route in survey['routes']]
        return [route for route in routes if route in (MODELS[model] or routes[:2])]

    def symptoms_of(self, model, route):
        tables = self.out('tables', f'tables --model {model} --route {shlex.quote(route)} --faults 4')
        sense = tables['arrangements'][0]['evidence'][0]['sense']
        return tables['senses'][sense]['severities']

    def test_1_cases_at_every_stage(self):
        for model in MODELS:
            for route in self.routes_of(model):
                well, *heard = self.symptoms_of(model, route)
                for complaint in sorted({heard[-1], heard[len(heard) // 2]}):
                    about = f'--model {model} --route {shlex.quote(route)} --heard {shlex.quote(complaint)}'
                    self.out('rank', f'rank {about}')
                    begun = self.out('isolate', f'isolate {about} --keep kept.yaml', [])
                    self.assertIn('next', begun)
                    self.out('isolate', f'isolate {about} --keep kept.yaml', ['u', 'k'])
                    kept = pathlib.Path(self.folder, 'kept.yaml')
                    self.assertEqual(schemas.problems('case', schemas.read(kept)), [], kept.read_text())
                    self.out('rank', 'rank --evidence kept.yaml')
                    self.out('tables', 'tables --evidence kept.yaml --faults 3')
                    self.out('isolate', f'isolate {about} --aim split', [well, 'u', well, 'q'])
        about = '--model two-room-booth --route "left phone" --heard silent'
        mended = self.out('isolate', f'isolate {about}', ['s'] * 20)
        self.assertEqual(mended['ending']['stage'], 'mended')
        self.assertTrue(mended['ending']['throw_out'])
        over = self.out('isolate', f'isolate {about}', ['k'] * 70)
        self.assertEqual(over['ending']['stage'], 'handed over')
        self.out('isolate', f'isolate {about}', ['0', '0', '25 dB', 's', 'q'])
        self.out('isolate', 'isolate --model single-room --route bone --heard "25 dB" --since-pass 30', ['-30', 'q'])
        self.out('rank', f'rank {about} --think 1')
        self.out('rank', f'rank {about} --think 0')
        self.out('tables', 'tables --model single-room --route "left phone"')

    def check(self, about, otherwise=None, stop=None):
        """A check in which all is well, but for these answers by step, from 0; stopped before one, if need be."""
        about = 'check ' + about
        steps = self.out('check', about, [])['steps']
        model = about.split('--model ')[1].split()[0]
        answers = []
        for number, step in enumerate(steps[:stop]):
            well = 'y'
            if step['kind'] == 'listen' and len(step['routes']) == 1:
                well = self.symptoms_of(model, step['routes'][0])[0]
            answers += (otherwise or {}).get(step['step'], [well])
        return answers

    def test_2_checks(self):
        at = '--at 2026-11-26T08:30'
        about = f'--model single-room {at}'
        both = 'left phone and right phone'
        self.out('check', 'check ' + about, self.check(about))
        weekly = f'{about} --list weekly'
        self.out('check', 'check ' + weekly, self.check(weekly, {'thresholds on left phone': ['15', 'g']}))
        self.out('check', 'check ' + weekly, self.check(
            weekly, {'wear': ['k'], f'sweep {both}': ['n', 'n', 'y', 'g'], 'quiet': ['n']}))
        levels = ['l', 'left 1000 77.5', 'l', 'right 4000 69.5', 'g', 'y']
        done = self.out('check', 'check ' + about, self.check(about, {f'listen to {both}': levels}))
        self.assertEqual([level['passed'] for level in done['levels']], [True, False])
        about = f'--model two-room-booth {at}'
        for when in 'ynu':
            failed = self.out('check', 'check ' + about, self.check(about, {
                f'listen to {both}': ['n', 'crackle', when, 'steady', 'g'], 'listen to bone': ['25 dB', when, 'g'],
                'listen to talkback': ['k']}))
            self.assertEqual(failed['do_not_use'], ['left phone', 'bone'])
        about = f'--model small-stage {at}'
        self.out('check', 'check ' + about, self.check(about, {'listen to left drums': ['nothing', 'n', 'g']}, 5))

    def test_3_what_a_record_tells(self):
        record = '--record r.db'
        for day, answers, more in [('20', ['s'] * 20, '--heard silent'), ('21', ['k'] * 70, '--heard silent'),
                                   ('22', ['s', 'b', 'u', 'q'], '--heard "25 dB" --since-pass 3')]:
            self.out('isolate', 'isolate --model single-room --route "left phone" '
                     f'{more} {record} --at 2026-11-{day}T09:00', answers)
        about = '--model single-room --at 2026-11-{}T08:00'
        self.out('isolate', f'isolate --model two-room-booth --route "left phone" --heard silent {record} '
                 '--at 2026-11-22T10:00', ['s'] * 20)
        both = 'listen to left phone and right phone'
        later = {both: ['n', 'crackle', 'n', 'steady', 'g'],
                 'listen to bone': ['25 dB', 'u', 'g']}
        now = {both: ['n', 'crackle', 'n', 'steady', 'i', 'q']}
        for day, otherwise, stop in ((16, {}, None), (23, later, None), (24, now, 8)):
            answers = self.check(about.format(day), otherwise, stop)
            ran = self.run_it(f'check {about.format(day)} {record}', answers)
            self.assertEqual(ran.returncode, 0, ran.stderr)
        self.assertEqual(self.run_it(f'session --model single-room --from sessions.txt {record}').returncode, 0)
        cases = self.out('log#/$defs/cases', f'log {record}')['cases']
        self.assertEqual({case['ending'] for case in cases}, {'mended', 'handed over', 'open'})
        for case in cases:
            self.out('log#/$defs/case', f'log {record} --case {case["case"]}')
        self.out('log#/$defs/cases', f'log {record} --route nowhere')
        for check in self.out('log#/$defs/checks', f'log {record} --checks')['checks']:
            self.out('log#/$defs/check', f'log {record} --check {check["check"]}')
        name = self.out('survey', 'survey single-room')['installation']
        self.out('log#/$defs/sessions', f'log {record} --sessions --installation {shlex.quote(name)}')
        at = f'--model single-room {record} --at 2026-11-27T08:00'
        self.out('rates', f'rates {at}')
        self.out('rates', f'rates --model small-stage {record}')
        back = self.out('lookback', f'lookback {at} --found 2026-11-25')
        self.assertTrue(back['sessions'])
        self.out('lookback', f'lookback {at} --found 2026-11-25 --case 1 --recall .5')
        for model in MODELS:
            self.out('interval', f'interval --model {model}')
        self.out('interval', f'interval {at} --list weekly')
        self.out('rank', f'rank {at} --route bone --heard silent')

    def test_4_stock_and_trials(self):
        self.out('stock', 'stock --model screening-set --cases 10')
        self.out('stock', 'stock --model screening-set --cases 10 --budget 100 --record r.db')
        self.out('stock', 'stock --stores cupboard.yaml --cases 5 --budget 50 --service .98')
        self.out('trial', 'trial --model single-room --route bone --cases 3 --policy time --policy random')
        self.out('trial', 'trial --model small-stage --route "' + self.routes_of('small-stage')[0] +
                 '" --cases 3 --heard nothing --policy "fixed order" --truth high')

    def test_5_drills(self):
        self.out('drill#/$defs/lessons', 'drill')
        good, hasty, crossed = (re.sub('#.*\n', '', (CASES / f'drill-{name}.txt').read_text()).splitlines()
                                for name in ('good', 'hasty', 'crossed'))
        put = '--record r.db --trainee'
        self.out('drill#/$defs/drill', f'drill --lesson 1 --against {put} T1 --at 2026-11-26T09:00', good)
        self.out('drill#/$defs/drill', f'drill --lesson 3 --against {put} T2 --at 2026-11-26T10:00', hasty)
        self.out('drill#/$defs/drill', 'drill --lesson 9 --case 2', crossed)
        self.out('drill#/$defs/drill', 'drill --lesson 2 --seed 7', ['hint', 'hint', 'listen', 'aside'])
        self.out('drill#/$defs/drill', 'drill --lesson 2', ['hint', 'call', 'nothing'])
        self.out('drill#/$defs/progress', 'drill --progress T1 --record r.db')
        self.out('drill#/$defs/class', 'drill --class --record r.db')

    def test_6_nothing_in_a_schema_is_dead_and_all_that_may_be_missing_was(self):
        dead, always = [], []
        for name in OUTPUTS:
            for where, schema, key in schemas.properties_of(name):
                at = (id(schema['properties']), key)
                if at not in self.seen.met:
                    dead.append(f'{name}{where}: {key}')
                elif key not in schema.get('required', []) and at not in self.seen.left_out:
                    always.append(f'{name}{where}: {key}')
        self.assertEqual(dead, [], '\n'.join(['never seen in an output', *dead]))
        self.assertEqual(always, WITH_USE, '\n'.join(['always there, though it need not be', *always]))
        self.assertGreater(self.count, 150)
        print(f'{self.count} outputs')

    def test_7_every_schema_is_one_and_closed(self):
        for name, schema in schemas.SCHEMAS.items():
            schemas.Draft202012Validator.check_schema(schema)
            self.assertEqual(schema['$id'], f'urn:whichlink:schema:{name}')
            for where, one in schemas.objects(schema):
                reference = one.get('$ref')
                if isinstance(reference, str):
                    urn, _, rest = reference.partition('#/')
                    self.assertIn(urn, schemas.BY_ID, where)
                    schemas.at(f'{urn.rsplit(":", 1)[1]}#/{rest}')
                if name in OUTPUTS and isinstance(one.get('properties'), dict) and 'type' in one:
                    self.assertIs(one.get('additionalProperties'), False, f'{name}{where}')

    def test_8_every_command_that_writes_json_has_a_schema(self):
        told = self.run_it('--help').stdout
        commands = re.findall(r'^  ([a-z]+) ', told[told.index('\nSubcommands'):], re.MULTILINE)
        self.assertGreaterEqual(len(commands), 15)
        writing = {name for name in commands if '--json' in self.run_it(f'{name} --help').stdout}
        self.assertEqual(writing, set(OUTPUTS) - {'output'})  # that one is what all have in common

    def test_9_formats_md_names_every_key_and_every_schema(self):
        text = (ROOT / 'docs' / 'formats.md').read_text()
        told = set(re.findall(r'`([^`]+)`', re.sub('```.*?```', '', text, flags=re.DOTALL)))
        missing = []
        for name in schemas.SCHEMAS:
            if name not in ('common', 'output'):
                self.assertIn(f'schemas/{name}.json', text)
            for where, _, key in schemas.properties_of(name):
                is_output = name in OUTPUTS
                if (key not in told) if is_output else not re.search(rf'\b{re.escape(key)}\b', text):
                    missing.append(f'{name}{where}: {key}')
        self.assertEqual(missing, [], '\n'.join(['not in docs/formats.md', *missing]))
        self.assertGreater(len(told), 300)


if __name__ == '__main__':
    PROGRAM = sys.argv.pop(1)
    unittest.main()
