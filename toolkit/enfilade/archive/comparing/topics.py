"""What each rule is about, in the words by which a studio sorts its findings (own choice)."""

from __future__ import annotations

from typing import Final

__all__ = ["OTHER", "TOPICS", "topic_of"]

_RULES: Final = {
    "Doors and ways in": "K1 K1a K2 K2a A4042 A4044 D4 D5",
    "Work triangle": "K3 K3b K3c K4 K5",
    "Aisles and floor": "K6 K6a K6b K6c K7 K7a A3041 A3042 A3053 A3057 A8041 A8042 D1 D2 D3",
    "Islands and seats": "N1 N3 N4 N6 N7 N8 N9 N10 K8 K8a K9 K9a P1 P2 P3 P4",
    "Sink, dishwasher and waste": "K10 K11 K11a K11b K11c K11d K12 K13 K13a K13b K14 K15",
    "Cooking, ventilation and fire": "K17 K17b K17c K18 K19 K19a K20 K21 K21a K22",
    "Counters and landings": "K16 K23 K23a K24 K25 K25a K26 KH1 KH5 KH6 KH7",
    "Storage": "K27 K27a K27b K28 K29 KH2 KH3 KH4 Q5 Q16 A8045",
    "Appliances and household": "Q3 Q4 Q13 Q14 R6",
    "Light, outlets and glass": "K30 K31 IE1 IE2 IE3 IE4 I303a I303b I308a I308b",
    "Rooms": "I304 I305 I306 R4 R5 R7",
    "For a person who sits, and reach":
        "K10a K12a K16a K17a A3062 A3063 A3082 A3082b A3083 A309 A606 A8043 A8063 A8064 A8065 A8066",
    "Brief, decisions and script": "R1 R2 R3 T1 T2 T3 T4 T5 T6 T7",
}  # fmt: skip
OTHER: Final = "Other"
TOPICS: Final = (*_RULES, OTHER)
_OF: Final = {rule: topic for topic, rules in _RULES.items() for rule in rules.split()}


def topic_of(rule: str) -> str:
    """Return the topic of a rule.

    >>> topic_of("K6"), topic_of("X99")
    ('Aisles and floor', 'Other')
    """
    return _OF.get(rule, OTHER)
