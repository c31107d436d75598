"""How long the independent player takes for every case of some levels of a policy, and for everything that can happen on an
ordinary day, in seconds, on one processor.

On standard input the policy's exported facts and the levels; compared with nothing, for a figure of speed only.
"""

import json
import sys
import time

from player import Alone


def main():
    asked = json.load(sys.stdin)
    start = time.perf_counter()
    for level in asked["levels"]:
        alone = Alone(asked["policy"], level)
        for answers, failing in alone.cases():
            alone.play(answers, failing)
        alone.on_an_ordinary_day()
    print(time.perf_counter() - start)


if __name__ == "__main__":
    main()
