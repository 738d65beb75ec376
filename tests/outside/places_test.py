# The same bytes in every locale and time zone, names in any script, and nothing written but what was asked for.
# The path of the program whichlink is the one argument.

import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unicodedata
import unittest

ROOT = pathlib.Path(__file__).resolve().parents[2]
CASES = ROOT / 'tests' / 'cases'
AT = ['--at', '2026-11-20T09:00']
CASE = ['--model', 'single-room', '--route', 'left phone', '--heard', 'silent']


class Places(unittest.TestCase):
    def setUp(self):
        self.scratch = tempfile.TemporaryDirectory(prefix='whichlink-places-')
        self.folder = pathlib.Path(self.scratch.name)
        (self.folder / 'answers.txt').write_text('s\n' * 20)

    def tearDown(self):
        self.scratch.cleanup()

    def run_it(self, words, before=(), **environment):
        folder = self.folder / 'work'
        folder.mkdir(exist_ok=True)
        return subprocess.run([*before, PROGRAM, *words], cwd=folder, input=b'', capture_output=True, env={
            'PATH': os.environ['PATH'], 'HOME': str(self.folder / 'home'), 'LC_ALL': 'C.UTF-8', **environment})

    def out(self, words, **environment):
        ran = self.run_it(words, **environment)
        self.assertEqual(ran.returncode, 0, (words, ran.stderr))
        return ran.stdout.decode()

    def test_every_locale_and_time_zone_gives_the_same_bytes(self):
        subprocess.run(['localedef', '-i', 'de_DE', '-f', 'UTF-8', str(self.folder / 'de_DE.UTF-8')], check=True,
                       capture_output=True)
        german = {'LC_ALL': 'de_DE.UTF-8', 'LOCPATH': str(self.folder)}
        comma = subprocess.run(['printf', '%.1f', '1,5'], capture_output=True, text=True, env=german)
        self.assertEqual(comma.stdout, '1,5', 'the locale is not there')
        answers = ['--answers', str(self.folder / 'answers.txt')]
        commands = [
            ['survey', 'two-room-booth', '--moves'], ['rank', *CASE], ['rank', *CASE, '--json'],
            ['isolate', *CASE, '--record', 'r.db', *AT, *answers], ['log', '--record', 'r.db'],
            ['log', '--record', 'r.db', '--case', '1'], ['log', '--record', 'r.db', '--csv'],
            ['tables', '--model', 'single-room', '--route', 'bone', '--faults', '2'],
            ['rates', '--model', 'single-room', '--record', 'r.db', *AT], ['interval', '--model', 'small-stage'],
            ['trial', '--model', 'single-room', '--route', 'bone', '--cases', '3'],
            ['check', '--model', 'single-room', *AT, '--json'], ['drill'], ['manual']]
        outputs = []
        for environment in ({}, german, {'TZ': 'Pacific/Kiritimati'}, {'TZ': 'America/Adak'},
                            {**german, 'TZ': 'America/Adak', 'LC_NUMERIC': 'de_DE.UTF-8'}):
            outputs.append([self.out(command, **environment) for command in commands])
            (self.folder / 'work' / 'r.db').unlink()
        for other in outputs[1:]:
            self.assertEqual(other, outputs[0])
        self.assertTrue(all(outputs[0]))

    def test_without_utf8_all_drawing_is_ascii(self):
        count = 0
        for locale in ('C', 'POSIX', 'de_DE.ISO-8859-1'):
            for words in (['survey', 'two-room-booth'], ['rank', *CASE], ['isolate', *CASE], ['drill'],
                          ['interval', '--model', 'single-room'], ['check', '--model', 'single-room'],
                          ['trial', '--model', 'single-room', '--route', 'bone', '--cases', '3']):
                text = self.out(words, LC_ALL=locale)
                odd = sorted({letter for letter in text if ord(letter) > 126})
                # Words of a page may hold a sign; what draws is listed in render/.
                drawing = [one for one in odd if '\u2500' <= one <= '\u259f' or one == '\u2026']
                self.assertEqual(drawing, [], (locale, words))
                count += 1
        self.assertEqual(count, 21)
        self.assertRegex(self.out(['survey', 'two-room-booth']), '[\u2500-\u257f]')

    NAMES = {'left phone': 'o\u0308stlich \U0001f3a7', 'right phone': '\u05d9\u05de\u05d9\u05df',
             'bone': '\u65e5\u672c\u8a9e\u306e\u90e8\u5c4b',
             'One-room clinic, Harrow Lane practice': 'Zimmer \u2116 1 \U0001f468\u200d\u2695\ufe0f'}

    def test_names_in_any_script_come_back_and_columns_stand(self):
        model = (ROOT / 'models' / 'single-room.yaml').read_text()
        for name, other in self.NAMES.items():
            self.assertIn(name, model)
            model = re.sub(rf'(^  |pair: |^installation: ){re.escape(name)}(?=:?$)', rf'\g<1>{other}', model,
                           flags=re.MULTILINE)
        (self.folder / 'work').mkdir()
        (self.folder / 'work' / 'room.yaml').write_text(model)
        survey = self.out(['survey', 'room.yaml'])
        routes = [self.NAMES[name] for name in ('left phone', 'right phone', 'bone')]
        for name in (*routes, self.NAMES['One-room clinic, Harrow Lane practice']):
            self.assertIn(name, survey)
        for number, route in enumerate([*routes, 'button']):
            heard = 'dead' if route == 'button' else 'silent'
            self.out(['isolate', '--model', 'room.yaml', '--route', route, '--heard', heard, '--record', 'r.db',
                      '--at', f'2026-11-2{number}T09:00'])
        log = self.out(['log', '--record', 'r.db']).splitlines()
        told = json.loads(self.out(['log', '--record', 'r.db', '--json']))['cases']
        self.assertEqual([case['route'] for case in told], ['button', *reversed(routes)])
        for route in routes:
            self.assertIn(route, self.out(['log', '--record', 'r.db', '--csv']))
        columns = set()
        for line in log:
            found = re.search(r' (silent|dead) ', line)
            if found:
                columns.add(sum(self.cells(letter) for letter in line[:found.start() + 1]))
        self.assertEqual(len(columns), 1, '\n'.join(log))

    @staticmethod
    def cells(letter):
        if unicodedata.category(letter) in ('Mn', 'Me', 'Cf'):
            return 0
        return 2 if unicodedata.east_asian_width(letter) in 'WF' else 1

    WRITES = re.compile(r'^(?:\[pid +\d+\] |\d+ +)?(openat|open|creat|rename\w*|unlink\w*|mkdir\w*|link\w*|symlink\w*|'
                        r'truncate|mknod\w*|chmod|fchmodat|utimensat)\((.*?)\) += (-?\d+)')

    def written(self, words):
        """Every path that a command opened for writing, made, renamed or took away."""
        trace = self.folder / 'trace'
        ran = self.run_it(words, before=['strace', '-f', '-qq', '-e', 'trace=%file', '-s', '4096', '-o', str(trace)])
        self.assertEqual(ran.returncode, 0, (words, ran.stderr))
        paths = set()
        seen = 0
        for line in trace.read_text().splitlines():
            found = self.WRITES.match(line)
            seen += 1
            if not found or found.group(3) == '-1':
                continue
            call, arguments = found.group(1), found.group(2)
            if call in ('openat', 'open') and not re.search('O_WRONLY|O_RDWR|O_CREAT|O_TRUNC|O_APPEND', arguments):
                continue
            paths.update(re.findall(r'"((?:[^"\\]|\\.)*)"', arguments))
        self.assertGreater(seen, 20, 'nothing was traced')
        work = self.folder / 'work'
        return {str((work / path).resolve()) for path in paths} - {'/dev/tty', '/dev/null'}

    def test_nothing_is_written_but_the_record_and_what_was_named(self):
        work = (self.folder / 'work').resolve()
        record = {f'{work}/{name}' for name in ('r.db', 'r.db-journal', 'r.db-wal', 'r.db-shm')}
        answers = ['--answers', str(self.folder / 'answers.txt')]
        on = ['--record', 'r.db', *AT]
        drill = ['--answers', str(CASES / 'drill-good.txt')]
        commands = [
            (['survey', 'single-room'], []), (['rank', *CASE], []), (['manual'], []), (['complete', 'su'], []),
            (['isolate', *CASE], []), (['isolate', *CASE, *answers, *on], record),
            (['isolate', *CASE, '--keep', 'kept.yaml'], ['kept.yaml']), (['rank', '--evidence', 'kept.yaml'], []),
            (['tables', '--model', 'single-room', '--route', 'bone'], []),
            (['tables', '--model', 'single-room', '--route', 'button', '--heard', 'dead', '--format', 'pomdp',
              '--faults', '1', '--standings', '1'], []),
            (['check', '--model', 'single-room', *on], record), (['check', '--model', 'single-room'], []),
            (['session', '--model', 'single-room', '--code', 'A1', '--route', 'bone', *on], record),
            (['log', '--record', 'r.db'], record), (['log', '--record', 'r.db', '--checks', '--csv'], record),
            (['rates', '--model', 'single-room', *on], record),
            (['lookback', '--model', 'single-room', '--found', '2026-11-25', *on], record),
            (['interval', '--model', 'single-room', '--plot', 'i.svg'], ['i.svg']),
            (['stock', '--model', 'screening-set', '--cases', '3', '--budget', '9', '--plot', 's.svg', '--curve',
              's.csv'], ['s.svg', 's.csv']),
            (['trial', '--model', 'single-room', '--route', 'bone', '--cases', '2', '--plot', 't.svg'], ['t.svg']),
            (['new', '--rules', 'hearing', '--answers', str(CASES / 'new-clinic.txt'), '--out', 'n.yaml', '--draw',
              'n.svg'], ['n.yaml', 'n.svg']),
            (['drill'], []),
            (['drill', '--lesson', '1', *drill, '--print', 'p.txt', '--plot', 'd.svg'], ['p.txt', 'd.svg']),
            (['drill', '--lesson', '1', '--trainee', 'T1', *drill, *on], record),
            (['drill', '--class', '--record', 'r.db'], record),
            (['sheet', 'chain', '--model', 'single-room'], []),
            (['sheet', 'check', '--model', 'single-room', '--out', 'c.html'], ['c.html']),
            (['sheet', 'year', '--model', 'single-room', '--year', '2026', '--record', 'r.db', '--out', 'y.html'],
             record | {f'{work}/y.html'})]
        tried = set()
        for words, named in commands:
            may = {path if path.startswith('/') else f'{work}/{path}' for path in named}
            may |= {path + '.new' for path in may}
            written = self.written(words)
            self.assertEqual(written - may, set(), words)
            if isinstance(named, list):
                self.assertLessEqual({f'{work}/{path}.new' for path in named}, written, words)
            tried.add(words[0])
        usage = self.out(['--help']).split('Subcommands:\n')[1]
        self.assertEqual(set(re.findall('^  ([a-z]+) ', usage, re.MULTILINE)) - tried, set(), 'a command is not tried')
        self.assertFalse((self.folder / 'home').exists())


if __name__ == '__main__':
    PROGRAM = sys.argv.pop(1)
    unittest.main()
