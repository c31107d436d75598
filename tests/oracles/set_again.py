"""Sets finished faces with the Python package typst, the same typesetter.

    set_again.py cold FOLDER                  sets one: FOLDER/set.pdf
    set_again.py each FOLDER                  sets each of the folders in it, as `cold` does
    set_again.py pack FOLDER WAY THREADS      prints the milliseconds from the first aid to the last
"""

import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import typst


def beginning(folder):
    main, *standards = (folder / "begin").read_text().split()
    return str(folder / main), standards


def cold(folder):
    main, standards = beginning(folder)
    typst.compile(
        main,
        output=str(folder / "set.pdf"),
        root=str(folder),
        font_paths=[str(folder / "fonts")],
        ignore_system_fonts=True,
        pdf_standards=standards,
    )


def pack(folder, way, threads):
    folders = sorted(path for path in folder.iterdir())
    fonts = None
    if way != "plain":
        fonts = typst.Fonts(
            include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(folders[0] / "fonts")]
        )

    def with_compiler(mine):
        compiler = typst.Compiler(root=str(folders[0]), font_paths=fonts)
        for one in mine:
            main, standards = beginning(one)
            assert compiler.compile(input=main, root=str(one), pdf_standards=standards)

    def with_function(one):
        main, standards = beginning(one)
        shared = fonts if way == "shared" else [str(one / "fonts")]
        assert typst.compile(
            main, root=str(one), font_paths=shared, ignore_system_fonts=True, pdf_standards=standards
        )

    began = time.perf_counter()
    with ThreadPoolExecutor(threads) as pool:
        if way == "compiler":
            list(pool.map(with_compiler, [folders[at::threads] for at in range(threads)]))
        else:
            list(pool.map(with_function, folders))
    print((time.perf_counter() - began) * 1e3)


def each(folder):
    for one in sorted(folder.iterdir()):
        cold(one)


match sys.argv[1:]:
    case ["cold", folder]:
        cold(Path(folder))
    case ["each", folder]:
        each(Path(folder))
    case ["pack", folder, way, threads]:
        pack(Path(folder), way, int(threads))
