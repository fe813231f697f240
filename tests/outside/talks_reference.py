"""Writes talks_reference.json: cues of WebVTT and SRT as the subtitle libraries webvtt-py 0.6.0 and srt 3.5.3 read them, and numbers in
words as num2words 0.5.14 spells them.

Run it with these packages installed; it prints the file. The cases are made after the format descriptions: WebVTT of the W3C, and for SRT,
which has no standard, common practice. Markup is left in by both libraries, so the test compares texts less what stands in angle brackets.
"""

import io
import json
from datetime import timedelta
from importlib.metadata import version

import srt
import webvtt
from num2words import num2words

for package, wanted in [("webvtt-py", "0.6.0"), ("srt", "3.5.3"), ("num2words", "0.5.14")]:
    assert version(package) == wanted, (package, version(package))

VTT = [
    "WEBVTT\n\n00:01.000 --> 00:04.000\nTake it off.\n",
    "WEBVTT with words behind\n\n00:00:01.000 --> 00:00:04.000\nTake it\noff.\n\n00:00:05.500 --> 00:00:06.250\nNow.\n",
    "WEBVTT\n\nfirst cue\n00:01.000 --> 00:04.000 align:start position:10%\nTake it off.\n",
    "WEBVTT\n\nNOTE a comment\nof two lines\n\n1\n00:01.000 --> 00:02.000\none\n\nSTYLE\n::cue { color: red }\n\n2\n00:02.000 --> 00:03.000\ntwo\n",
    "WEBVTT\n\n00:01.000 --> 00:05.000\novers\n\n00:03.000 --> 00:07.000\nlap\n",
    "WEBVTT\r\n\r\n00:01.000 --> 00:02.000\r\nreturn\r\nand line\r\n",
    "\ufeffWEBVTT\n\n00:01.000 --> 00:02.000\nmark\n",
    "WEBVTT\n\n00:01.000 --> 00:02.000\n<v Ann>Take <b>it</b> <i>off</i>\n",
    "WEBVTT\n\n99:59:59.999 --> 100:00:00.000\nlate\n",
]
SRT = [
    "1\n00:00:01,000 --> 00:00:04,000\nTake it off.\n\n2\n00:00:05,500 --> 00:00:06,250\nNow\ngo.\n",
    "1\r\n00:00:01,000 --> 00:00:02,000\r\nreturn\r\n\r\n2\r\n00:00:02,000 --> 00:00:03,000\r\ntwo\r\n",
    "1\n00:00:05,000 --> 00:00:09,000\novers\n\n2\n00:00:07,000 --> 00:00:08,000\nlap\n",
    "7\n01:02:03,004 --> 01:02:04,000\n<i>late</i> number\n",
    "1\n00:00:01,000 --> 00:00:02,000\none\n\n\n2\n00:00:03,000 --> 00:00:04,000\ntwo\n",
]


def milliseconds(delta: timedelta) -> int:
    return round(delta.total_seconds() * 1000)


def clock(text: str) -> int:
    hours, minutes, seconds = text.split(":")
    return round((int(hours) * 3600 + int(minutes) * 60 + float(seconds)) * 1000)


vtt = [
    {"text": text, "cues": [[clock(cue.start), clock(cue.end), cue.raw_text] for cue in webvtt.from_buffer(io.StringIO(text.lstrip("\ufeff").replace("\r\n", "\n")))]}
    for text in VTT
]
subrip = [{"text": text, "cues": [[milliseconds(cue.start), milliseconds(cue.end), cue.content] for cue in srt.parse(text)]} for text in SRT]
numbers = [[number, num2words(number).replace("-", " ").replace(",", "")] for number in [*range(1, 131), 150, 199, 200, 216, 240, 305, 415, 900, 999, 1000, 1040, 1500, 2800]]
decimals = [[text, num2words(float(text)).replace("-", " ")] for text in ["0.5", "1.5", "2.25", "12.6", "14.4", "0.05", "3.75"]]
print(json.dumps({"vtt": vtt, "srt": subrip, "numbers": numbers, "decimals": decimals}, ensure_ascii=False, indent=1))
