# The manual page and the completion of bash, held against what the program's own help says.
# The path of the program whichlink is the one argument.

import os
import re
import shlex
import subprocess
import sys
import tempfile
import unittest


def said(*words, **more):
    return subprocess.run([PROGRAM, *words], capture_output=True, text=True, **more)


def help_of(*command):
    return said(*command, '--help').stdout


def options_in(text):
    return set(re.findall(r'^  (?:-h,)?(--[a-z-]+)', text, re.MULTILINE))


def commands_in(text):
    part = text.split('Subcommands:\n')
    return re.findall(r'^  ([a-z]+) ', part[1], re.MULTILINE) if len(part) > 1 else []


class Manual(unittest.TestCase):
    def setUp(self):
        self.page = said('manual').stdout

    def test_holds_each_command_and_option_with_its_words(self):
        plain = self.page.replace('\\-', '-')
        commands = commands_in(help_of())
        self.assertGreater(len(commands), 12)
        for command in commands:
            part = re.search(rf'^\.SS {command}\b.*?(?=^\.S[SH] (?!{command}\b))', plain, re.MULTILINE | re.DOTALL)
            self.assertTrue(part, command)
            options = options_in(help_of(command))
            self.assertIn('--help', options)
            for option in options:
                self.assertIn(f'\\fB{option}\\fR', part.group(), command)
        for section in ('NAME', 'SYNOPSIS', 'DESCRIPTION', 'OPTIONS', 'COMMANDS', 'EXIT STATUS', 'ENVIRONMENT',
                        'FILES', 'EXAMPLES'):
            self.assertIn(f'.SH {section}\n', plain)

    def test_is_clean_for_groff(self):
        ran = subprocess.run(['groff', '-man', '-Tutf8', '-ww', '-rLL=78n'], input=self.page, capture_output=True,
                             text=True)
        self.assertEqual((ran.returncode, ran.stderr), (0, ''))
        self.assertIn('whichlink', ran.stdout)

    def test_examples_and_environment_are_those_of_the_program(self):
        examples = re.findall(r'^\.nf\n(whichlink .*)\n', self.page.replace('\\-', '-'), re.MULTILINE)
        self.assertEqual(len(examples), 4)
        with tempfile.TemporaryDirectory() as folder:
            for example in examples:
                ran = said(*shlex.split(example)[1:], input='', env={**os.environ, 'XDG_DATA_HOME': folder}, cwd=folder)
                self.assertEqual(ran.returncode, 0, example + ran.stderr)


class Bash(unittest.TestCase):
    def complete(self, *words):
        """What bash would offer for the last word."""
        line = ' '.join(shlex.quote(word) for word in (PROGRAM, *words))
        script = (f'source <("{PROGRAM}" completion bash); COMP_WORDS=({line}); COMP_CWORD={len(words)}; '
                  '_whichlink; printf "%s\\n" "${COMPREPLY[@]}"')
        ran = subprocess.run(['bash', '-c', script], capture_output=True, text=True)
        self.assertEqual((ran.returncode, ran.stderr), (0, ''), words)
        return ran.stdout.splitlines() if ran.stdout.strip() else []

    def test_commands_and_options_follow_the_help(self):
        commands = commands_in(help_of())
        self.assertEqual(self.complete(''), commands)
        for command in commands:
            self.assertEqual(set(self.complete(command, '--')), options_in(help_of(command)), command)
            inner = commands_in(help_of(command))
            self.assertEqual([one for one in self.complete(command, '') if one in inner], inner)
        self.assertEqual(self.complete('iso'), ['isolate'])

    def test_values_come_from_the_model(self):
        models = self.complete('survey', '')
        self.assertEqual(models, ['screening-set', 'single-room', 'small-stage', 'two-room-booth'])
        self.assertEqual(self.complete('isolate', '--model', 'scr'), ['screening-set'])
        self.assertEqual(self.complete('isolate', '--model', '=', 'scr'), ['screening-set'])
        self.assertEqual(self.complete('rank', '--model', 'single-room', '--route', 'l'), ['left\\ phone'])
        self.assertEqual(self.complete('rank', '--model', 'single-room', '--route', '"le'), ['left phone'])
        self.assertEqual(self.complete('rank', '--model', 'single-room', '--route', 'left\\ p'), ['left\\ phone'])
        self.assertIn('dead', self.complete('rank', '--model', 'single-room', '--route', 'button', '--heard', ''))
        self.assertEqual(self.complete('check', '--model', 'single-room', '--list', 'w'), ['weekly'])
        self.assertIn('split', self.complete('rank', '--aim', ''))
        self.assertEqual(self.complete('trial', '--policy', 'fix'), ['fixed\\ order'])
        for command, option in (('trial', '--policy'), ('trial', '--truth'), ('tables', '--format'), ('log', '--ending')):
            values = [value.replace('\\', '') for value in self.complete(command, option, '')]
            self.assertGreaterEqual(len(values), 2, option)
            refusal = said(command, '--model', 'single-room', '--route', 'bone', option, 'no such thing').stderr
            for value in values:  # what is offered is what the refusal names
                self.assertIn(value, refusal)
        self.assertGreater(len(self.complete('drill', '--lesson', '')), 10)

    def test_errors_are_silent(self):
        with tempfile.NamedTemporaryFile(suffix='.yaml') as broken:
            broken.write(b'installation: [')
            broken.flush()
            for words in (['rank', '--model', broken.name, '--route', ''], ['rank', '--route', ''],
                          ['rank', '--model', '/no/such', '--route', ''], ['nonsense', '--mo'], []):
                ran = said('complete', *words)
                self.assertEqual((ran.returncode, ran.stderr), (0, ''), words)
            self.assertEqual(self.complete('rank', '--model', broken.name, '--route', ''), [])

    def test_scripts_of_other_shells_ask_the_program_too(self):
        for shell in ('zsh', 'fish'):
            self.assertIn('complete', said('completion', shell).stdout)
        self.assertEqual(said('completion', 'tcsh').returncode, 2)


if __name__ == '__main__':
    PROGRAM = sys.argv.pop(1)
    unittest.main()
