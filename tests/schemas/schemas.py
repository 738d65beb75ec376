# The schemas of docs/schemas, and files read the way that they see them.

import json
import pathlib

import yaml
from jsonschema import Draft202012Validator, RefResolver, validators

ROOT = pathlib.Path(__file__).resolve().parents[2]
FOLDER = ROOT / 'docs' / 'schemas'
SCHEMAS = {path.stem: json.loads(path.read_text()) for path in sorted(FOLDER.glob('*.json'))}
BY_ID = {schema['$id']: schema for schema in SCHEMAS.values()}


def resolver():
    # The library joins a reference of urns wrongly; ours name the whole urn, so nothing is to be joined.
    return RefResolver('', {}, store=BY_ID, urljoin_cache=lambda _, reference: reference)


def at(reference):
    """The part of a schema that `NAME` or `NAME#/$defs/PART` names."""
    name, _, rest = reference.partition('#/')
    found = SCHEMAS[name]
    for word in filter(None, rest.split('/')):
        found = found[word]
    return found


class Seen:
    """Which properties of which schema were met in values, and which were once left out."""

    def __init__(self):
        self.met = set()
        self.left_out = set()

    def properties(self, validator, properties, instance, schema):
        if isinstance(instance, dict):
            for key in properties:
                (self.met if key in instance else self.left_out).add((id(properties), key))
        yield from Draft202012Validator.VALIDATORS['properties'](validator, properties, instance, schema)


def validator_of(reference, seen=None):
    base = Draft202012Validator
    if seen is not None:
        base = validators.extend(base, {'properties': seen.properties})
    return base(at(reference), resolver=resolver())


def problems(reference, value, seen=None):
    return [f'/{"/".join(map(str, error.absolute_path))}: {error.message[:200]}'
            for error in validator_of(reference, seen).iter_errors(value)]


def objects(schema, where=''):
    """Every subschema that is a mapping, with where it stands."""
    if isinstance(schema, dict):
        yield where, schema
        for key, value in schema.items():
            yield from objects(value, f'{where}/{key}')
    elif isinstance(schema, list):
        for index, value in enumerate(schema):
            yield from objects(value, f'{where}/{index}')


def properties_of(name):
    """Each property of a closed mapping: where that stands, its schema, and the key."""
    for where, schema in objects(SCHEMAS[name]):
        if schema.get('additionalProperties') is False:
            for key in schema['properties']:
                yield where, schema, key


class Numbers(yaml.SafeLoader):
    """YAML with the plain scalars that the program knows: decimals, true, false and nothing."""


Numbers.yaml_implicit_resolvers = {}


def scalar(node):
    text = node.value
    if node.style is not None:
        return text
    if text in ('', '~', 'null', 'Null', 'NULL'):
        return None
    if text in ('true', 'false'):
        return text == 'true'
    if text[0] in '-.0123456789':
        try:
            number = float(text)
        except ValueError:
            return text
        return int(number) if number == int(number) and '.' not in text and 'e' not in text else number
    return text


def value_of(node):
    if isinstance(node, yaml.MappingNode):
        return {key.value: value_of(value) for key, value in node.value}
    if isinstance(node, yaml.SequenceNode):
        return [value_of(item) for item in node.value]
    return scalar(node)


def read(path):
    return value_of(yaml.compose(pathlib.Path(path).read_text(), Loader=Numbers))
