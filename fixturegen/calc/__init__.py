"""Bench answers: sourced formulas, one topic a file.

A topic is a module here without a leading underscore, holding one public function. Its parameters
are annotated with unit and range, and it returns a frozen result (`Answer`) whose fields are
annotated in the same way. Nobody keeps a list: a new file is a new topic.
"""

from fixturegen.calc._answer import Answer, Columns
from fixturegen.calc._registry import Option, Reply, Topic, ask, topic, topic_names, topics

__all__ = [
    "Answer",
    "Columns",
    "Option",
    "Reply",
    "Topic",
    "ask",
    "topic",
    "topic_names",
    "topics",
]
