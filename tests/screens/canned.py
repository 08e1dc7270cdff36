"""Moments of an invented order, as the floor would show them."""

from __future__ import annotations

import msgspec

from forgelog.floor.view import FireLine, HotLine, KeyLine, ListView, RestLine, View

KEYS = (
    KeyLine(key="SPACE", words="heat over, back in the fire"),
    KeyLine(key="ENTER", words="the eye is rolled: let it rest"),
    KeyLine(key="TAB", words="trouble, lay aside"),
    KeyLine(key="BACKSPACE", words="undo: out of the fire"),
)

IN_HAND = View(
    order="A GATE HINGES · orchard gate",
    piece="STRAP · left, 1 of 2",
    progress="step 5 of 9",
    verb="ROLL THE EYE",
    verb_short="ROLL",
    lines=(
        "round the 16 mm mandrel, bore 16.5 mm cold",
        "start 1100 degC, orange to yellow; stop 850",
        "watch: the thin end burns first",
        "gauge: the 16 mm pin turns freely in it",
    ),
    heats="heat 2 of about 3",
    heats_from="from 6 of yours",
    clock="0:23",
    clock_words="in hand",
    heat_left="about 19 s of heat left",
    heat_left_share=0.55,
    fire_title="FIRE 2 of 3",
    fire=(
        FireLine(number=2, name="A strap", clock="1:40", look=True),
        FireLine(number=3, name="B pintle", clock="0:20"),
    ),
    resting=(RestLine(number=4, name="B pintle", words="to black, about 2:50 more"),),
    hot=(HotLine(number=6, name="nut", words="looks black, hand-warm about 14:20"),),
    next=("A strap, roll the eye: hot now", "B pintle, upset the collar: in about 2 min"),
    status="14:02 · gas · by hand",
    keys=KEYS,
)

WAITING = msgspec.structs.replace(
    IN_HAND,
    clock="",
    clock_words="",
    heat_left="",
    heat_left_share=None,
    lines=("lay it in the fire, thick end in", "start 1100 degC, orange to yellow; stop 850"),
    fire=(
        FireLine(number=2, name="A strap", clock="1:40", look=True, chosen=True),
        FireLine(number=3, name="B pintle", clock="0:20"),
    ),
    keys=(
        KeyLine(key="SPACE", words="out of the fire, into the hand"),
        KeyLine(key="ENTER", words="it is in the fire", live=False),
        KeyLine(key="TAB", words="another piece"),
        KeyLine(key="BACKSPACE", words="undo: into the fire"),
    ),
)

DONE = msgspec.structs.replace(WAITING, done_words="THE EYE IS ROLLED", message="lies aside, hot")

QUESTION = msgspec.structs.replace(
    WAITING,
    question="This rest is 1:40 short: it is about 620 degC and not black. "
    "A shoulder that is worked now may hide a crack. Take it up all the same?",
    question_left_s=7.2,
    keys=(
        KeyLine(key="SPACE", words="leave it to rest"),
        KeyLine(key="ENTER", words="take it up all the same"),
        KeyLine(key="TAB", words="leave it to rest"),
        KeyLine(key="BACKSPACE", words="leave it to rest"),
    ),
)

LIST = msgspec.structs.replace(
    IN_HAND,
    list=ListView(
        title="TROUBLE WITH A strap",
        choices=(
            "lay it aside",
            "cut off the burnt end",
            "cracked",
            "scrap it and make another",
            "scrap it and make no other",
            "it is another piece that I hold",
        ),
        at=3,
    ),
    keys=(
        KeyLine(key="SPACE", words="leave the list"),
        KeyLine(key="ENTER", words="scrap it and make another"),
        KeyLine(key="TAB", words="next choice"),
        KeyLine(key="BACKSPACE", words="leave the list"),
    ),
)

ALARM = msgspec.structs.replace(
    IN_HAND, alarms=("LOOK: A strap, 1:40 in the fire",), practice="PRACTICE x20"
)

FULL = msgspec.structs.replace(
    IN_HAND,
    verb="SET DOWN THE SHOULDER OF THE TENON",
    verb_short="SET DOWN",
    fire=tuple(
        FireLine(number=i + 1, name=f"A strap {i}", clock=f"{i}:40", look=i == 1) for i in range(7)
    ),
    resting=tuple(
        RestLine(number=i, name="B pintle, upper", words="to black, about 2:50 more")
        for i in range(6)
    ),
    hot=tuple(
        HotLine(number=0, name=f"nut {i}", words="looks black, hand-warm about 14:20")
        for i in range(12)
    ),
    alarms=("LOOK: A strap 1, 1:40 in the fire", "REST DONE: B pintle, upper", "HEAT GONE"),
    lines=tuple(f"line {i} with quite a few words to be wrapped over rows" for i in range(9)),
    paused=True,
    practice="PRACTICE x20",
    message="that key came too soon after the last one: not counted",
    keys=tuple(KeyLine(key=key, words="m" * 34) for key in ("SPACE", "ENTER", "TAB", "BACKSPACE")),
)

HOSTILE = msgspec.structs.replace(
    IN_HAND,
    order="[bold]A[/] [@click=app.quit]x[/]",
    piece="[/]" + "W" * 10_000,
    verb="é\u202eVIL ROLL 鍛冶",
    verb_short="鍛" * 10,
    lines=("x" * 10_000, "\x1b[2J\x07 gone?", "鍛冶" * 300, "a\u0301" * 50),
    message="\x1b]0;title\x07[red]",
    next=("\u2066[link=x]y[/]" * 9,),
)

ALL = {
    "in hand": IN_HAND,
    "waiting": WAITING,
    "done": DONE,
    "question": QUESTION,
    "list": LIST,
    "alarm": ALARM,
    "full": FULL,
    "hostile": HOSTILE,
}
