"""Which lines of books a JSON Schema accepts, by Python's `jsonschema`.

schema.py SCHEMA LINES...: prints a JSON object: the versions, and for each file what is wrong with each of its lines,
or null.
"""

import json
import sys
from importlib.metadata import version

import jsonschema

schema = json.load(open(sys.argv[1], encoding="utf-8"))
kind = jsonschema.validators.validator_for(schema, default=None)
assert kind is jsonschema.Draft202012Validator, kind
kind.check_schema(schema)
validator = kind(schema)


def judge(line):
    error = next(validator.iter_errors(json.loads(line)), None)
    return error and f"{error.json_path}: {error.message[:200]}"


# Not splitlines: a word may hold other line ends than JSON Lines knows.
files = [open(name, encoding="utf-8", newline="").read().split("\n") for name in sys.argv[2:]]
judged = [[judge(line) for line in lines if line] for lines in files]
print(json.dumps({"versions": f"jsonschema {version('jsonschema')}", "files": judged}))
