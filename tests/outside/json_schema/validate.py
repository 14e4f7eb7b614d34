# validate.py SCHEMA-FOLDER OUTPUT-FOLDER: NAME-….json against NAME-N.json, where N is the number in its field 'schema'.
import copy
import json
import pathlib
import sys

import jsonschema


def strict(schema):
    """The same schema, but a field it does not name is an error: for readers such a field is allowed, of us it is a field without its sentence."""
    if isinstance(schema, dict):
        schema = {key: strict(value) for key, value in schema.items()}
        if schema.get("type") == "object" and "properties" in schema:
            schema["additionalProperties"] = False
    elif isinstance(schema, list):
        schema = [strict(one) for one in schema]
    return schema


def refuse(number):
    raise ValueError(number + " is no JSON")


def unlike(pairs):
    names = [name for name, _ in pairs]
    if len(names) != len(set(names)):
        raise ValueError("a field twice: " + str(names))
    return dict(pairs)


def spoilt(output):
    """Copies with one thing wrong at the top, to see that the schema notices."""
    for field in output:
        without = copy.deepcopy(output)
        del without[field]
        yield field, without
        other = copy.deepcopy(output)
        other[field] = {"not": "this"}
        yield field, other


def validated(schema_folder, path):
    text = path.read_bytes()
    output = json.loads(text.decode("ascii"), parse_constant=refuse, object_pairs_hook=unlike)
    schema_path = schema_folder / f"{path.name.split('-')[0].split('.')[0]}-{output['schema']}.json"
    schema = json.loads(schema_path.read_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(output)
    validator = jsonschema.Draft202012Validator(strict(schema))
    validator.validate(output)
    for field, wrong in spoilt(output):
        if validator.is_valid(wrong):
            raise ValueError(f"the schema does not notice a wrong '{field}'")
    return schema_path.name


def main():
    schema_folder, output_folder = map(pathlib.Path, sys.argv[1:])
    used, count = set(), 0
    for path in sorted(output_folder.glob("*.json")):
        try:
            used.add(validated(schema_folder, path))
        except (ValueError, OSError, jsonschema.ValidationError) as problem:
            sys.exit(f"{path.name}: {problem}")
        count += 1
    idle = {path.name for path in schema_folder.glob("*.json")} - used
    if idle:
        sys.exit(f"no output was held against {sorted(idle)}")
    print(f"{count} outputs, {len(used)} schemas: all valid")


main()
