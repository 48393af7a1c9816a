"""What the commands print, held against the published schemas by a general-purpose validator: `schemas.py FOLDER`, with what
`requirements.txt` names. FOLDER holds a schema for each command. JSON lines in, JSON lines out:

    {"command": "strike", "object": {...}}   ->  {"faults": ["hours/0/blows: 'one' is not of type 'integer'", ...]}
    {"command": "strike", "unseen": true}    ->  {"unseen": ["Lock/rim", ...]}

A schema lets keys be added, as they may be in a later version; of this version it must know every one, so here a key that it does not
name is a fault too. `unseen` are the keys of a schema that no object so far had, or had only as null.
"""

import json
import sys
from pathlib import Path

from jsonschema import Draft202012Validator
from jsonschema.exceptions import best_match

LISTS = ("anyOf", "oneOf", "allOf", "prefixItems")


def closed(schema, root=True):
    """The same schema, in which no object may have a key that is not named. A branch of an object with keys of its own (`root` false)
    is looked at together with them."""
    if not isinstance(schema, dict):
        return schema
    named = "properties" in schema
    out = {}
    for key, value in schema.items():
        if key in ("properties", "$defs"):
            out[key] = {name: closed(one) for name, one in value.items()}
        elif key in LISTS:
            out[key] = [closed(one, key == "prefixItems" or (root and not named)) for one in value]
        elif key in ("items", "additionalProperties"):
            out[key] = closed(value)
        else:
            out[key] = value
    if named and root and "additionalProperties" not in schema:
        out["unevaluatedProperties"] = False
    return out


class Command:
    def __init__(self, path):
        published = json.loads(path.read_text(encoding="utf-8"))
        Draft202012Validator.check_schema(published)
        assert published["$schema"] == "https://json-schema.org/draft/2020-12/schema", published["$schema"]
        self.schema = published
        self.published = Draft202012Validator(published)
        self.strict = Draft202012Validator(closed(published))
        self.title = published["title"]
        self.seen = set()

    def faults(self, value):
        # What the published one refuses, the strict one refuses too.
        assert self.strict.is_valid(value) <= self.published.is_valid(value)
        told = sorted(self.strict.iter_errors(value), key=lambda fault: list(map(str, fault.absolute_path)))
        if not told:
            self.walk(self.schema, value, self.title)
        # Of a shape that may be several, what is wrong with the one that it is nearest to.
        nearest = [best_match([fault]) for fault in told]
        return ["/".join(map(str, fault.absolute_path)) + ": " + fault.message[-200:] for fault in nearest]

    def walk(self, schema, value, of):
        """Marks the keys that a value shows, by the shape that they belong to."""
        if value is None or not isinstance(schema, dict):
            return
        if "$ref" in schema:
            of = schema["$ref"].rsplit("/", 1)[1]
            self.walk(self.schema["$defs"][of], value, of)
        for branch in schema.get("anyOf", []) + schema.get("oneOf", []):
            if self.published.evolve(schema={**branch, "$defs": self.schema.get("$defs", {})}).is_valid(value):
                self.walk(branch, value, of)
        if isinstance(value, dict):
            for key, one in value.items():
                if key in schema.get("properties", {}):
                    if one is not None:
                        self.seen.add(f"{of}/{key}")
                    self.walk(schema["properties"][key], one, of)
                elif isinstance(schema.get("additionalProperties"), dict):
                    self.walk(schema["additionalProperties"], one, of)
        if isinstance(value, list):
            for one in value:
                self.walk(schema.get("items"), one, of)

    def all(self):
        """Every key that the schema names, by the shape that it belongs to."""

        def keys(schema, of):
            if not isinstance(schema, dict):
                return
            for key, one in schema.get("properties", {}).items():
                yield f"{of}/{key}"
                yield from keys(one, of)
            for key in LISTS:
                for one in schema.get(key, []):
                    yield from keys(one, of)
            for key in ("items", "additionalProperties"):
                yield from keys(schema.get(key), of)

        yield from keys(self.schema, self.title)
        for name, one in self.schema.get("$defs", {}).items():
            yield from keys(one, name)


def main():
    commands = {path.stem: Command(path) for path in Path(sys.argv[1]).glob("*.json")}
    for line in sys.stdin:
        asked = json.loads(line)
        command = commands[asked["command"]]
        if asked.get("unseen"):
            told = {"unseen": sorted(set(command.all()) - command.seen)}
        else:
            told = {"faults": command.faults(asked["object"])}
        print(json.dumps(told), flush=True)


main()
