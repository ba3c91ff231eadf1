"""How results are written: whole or not at all, whatever happens.

    python3 tests/golden/test_output.py --program PATH [TEST...]
"""

import json
import os
import pty
import resource
import select
import signal
import shutil
import subprocess
import sys
import time

sys.dont_write_bytecode = True  # the tree stays as it is

from harness import JUNIPER, ROOT, Skip, main, need, tests_of  # noqa: E402

OLD = "what stood here before\n"
LARGE = ("sweep", JUNIPER, "--vary", "damper=0..100%:0.1%", "--format", "csv")
# Fits into the buffer of standard output: the error shows only when that is written.
SHORT = ("sweep", JUNIPER, "--vary", "damper=50%", "--format", "csv")


def old_file(h, name):
    """A folder with one file in it."""
    path = h.folder(name) / "result"
    path.write_text(OLD)
    return path


def need_untouched(path, done):
    need(path.read_text() == OLD, f"{done}: the old file is changed")
    left = sorted(os.listdir(path.parent))
    need(left == [path.name], f"{done}: left behind {left}")


def need_write_error(done, words):
    need(done.code == 5, f"{done}, expected exit code 5")
    need("cannot write" in done.err and words in done.err,
         f"{done}: the message does not say '{words}'")


def wait_for_text(pipe, text, limit_s):
    """Reads until the text has come; returns all that came."""
    got, end = b"", time.monotonic() + limit_s
    while text not in got and time.monotonic() < end:
        ready, _, _ = select.select([pipe], [], [], 0.2)
        if not ready:
            continue
        try:
            more = os.read(pipe, 65536)
        except OSError:  # a terminal whose program has ended
            break
        if not more:
            break
        got += more
    return got.decode()


def long_sweep(h, seconds):
    """--vary for a sweep that takes at least so long here."""
    start = time.monotonic()
    h.run("sweep", JUNIPER, "--vary", "damper=0..100%:0.05%", "--format", "csv")
    per_point = (time.monotonic() - start) / 2001
    points = min(max(int(seconds / per_point), 2000), 4_000_000)
    return f"damper=0..100%:{100 / points:.9f}%"


# ---- full disks ----------------------------------------------------------------------------------


def test_full_disk_on_standard_output(h):
    if not os.path.exists("/dev/full"):
        raise Skip("this system has no /dev/full")
    for words in (("estimate", JUNIPER), LARGE, ("check", "--keys"), ("--help",), ("--version",),
                  ("check", "--help"), ("estimate", JUNIPER, "--format", "json"), SHORT):
        with open("/dev/full", "wb") as full:
            done = h.run(*words, code=5, stdout=full)
        need("No space left" in done.err, f"{done}: the message does not say why")


def test_full_disk_on_a_device(h):
    if not os.path.exists("/dev/full"):
        raise Skip("this system has no /dev/full")
    need_write_error(h.run("estimate", JUNIPER, "--output", "/dev/full", code=None), "No space left")
    need(os.path.exists("/dev/full"), "the device is gone")


def test_device_is_written_to(h):
    done = h.run("estimate", JUNIPER, "--output", "/dev/null")
    need(done.out == "", f"{done}: wrote to standard output too")


def limit_file_size():
    resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))


def test_file_size_limit_keeps_the_old_file(h):
    path = old_file(h, "limit")
    done = h.run(*LARGE, "--output", path, code=None, preexec_fn=limit_file_size)
    need_write_error(done, "File too large")
    need_untouched(path, done)


def test_full_file_system_keeps_the_old_file(h):
    folder = h.folder("tmpfs")
    try:
        subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64k", "none", folder],
                       stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=True)
    except (OSError, subprocess.CalledProcessError) as error:
        raise Skip(f"no small file system can be mounted here ({error})") from error
    try:
        path = folder / "result"
        path.write_text(OLD)
        done = h.run(*LARGE, "--output", path, code=None)
        need_write_error(done, "No space left")
        need_untouched(path, done)
    finally:
        subprocess.run(["umount", folder], check=True)


# ---- files and folders ---------------------------------------------------------------------------


def test_output_holds_what_standard_output_would(h):
    folder = h.folder("same")
    for number, words in enumerate((("estimate", JUNIPER), LARGE, ("check", "--keys"),
                                    ("estimate", JUNIPER, "--format", "json"))):
        path = folder / str(number)
        shown, written = h.run(*words), h.run(*words, "--output", path)
        need(written.out == "", f"{written}: wrote to standard output too")
        need(path.read_bytes().decode() == shown.out, f"{written}: the file differs")
        need(path.stat().st_mode & 0o777 == 0o666 & ~current_mask(), f"{written}: odd permissions")


def current_mask():
    mask = os.umask(0)
    os.umask(mask)
    return mask


def test_an_old_file_is_replaced_and_keeps_its_permissions(h):
    path = old_file(h, "replace")
    path.chmod(0o640)
    done = h.run("estimate", JUNIPER, "--output", path)
    need(path.read_text().startswith("Juniper Flat"), f"{done}: the file has not the results")
    need(path.stat().st_mode & 0o777 == 0o640, f"{done}: other permissions")
    need(os.listdir(path.parent) == [path.name], f"{done}: left something behind")


def test_a_link_is_followed(h):
    path = old_file(h, "link")
    link = h.folder("elsewhere") / "link"
    link.symlink_to(path)
    done = h.run("estimate", JUNIPER, "--output", link)
    need(link.is_symlink() and path.read_text().startswith("Juniper Flat"), f"{done}: link lost")


def test_refused_places(h):
    folder = h.folder("places")
    for path, words in ((folder / "nowhere" / "result", "No such file"), (folder, "directory"),
                        (JUNIPER / "result", "Not a directory")):
        need_write_error(h.run("estimate", JUNIPER, "--output", path, code=None), words)
    need(os.listdir(folder) == [], "left something behind")
    h.run("estimate", JUNIPER, "--output", "", code=2)


def test_the_description_is_never_overwritten(h):
    copy = h.folder("own") / "kiln.yaml"
    shutil.copy(JUNIPER, copy)
    other = copy.parent / "link"
    os.link(copy, other)
    for output in (copy, other):
        need_write_error(h.run("estimate", copy, "--output", output, code=None), "the input")
    need(copy.read_bytes() == JUNIPER.read_bytes(), "the description is changed")


def test_what_is_read_is_never_overwritten(h):
    """By standard input, by a link, by the series, by a file of --config."""
    folder = h.folder("read")
    kiln, series = folder / "kiln.yaml", folder / "meter.csv"
    shutil.copy(JUNIPER, kiln)
    shutil.copy(ROOT / "examples" / "helper-headache.csv", series)
    config = folder / "config"
    shutil.copytree(ROOT / "config", config)
    (folder / "bands").symlink_to(config / "bands.yaml")
    os.link(kiln, folder / "other")
    kept = {path: path.read_bytes() for path in (kiln, series, config / "bands.yaml")}
    rows = ("--vary", "damper=50%", "--format", "csv")
    for words, read, output in ((("estimate", "-"), kiln, kiln), (("estimate", "-"), kiln, folder / "other"),
                                (("sweep", "-", *rows), kiln, kiln), (("sweep", kiln, *rows), None, kiln),
                                (("exposure", "--series", "-"), series, series),
                                (("exposure", "--series", series), None, series),
                                (("estimate", kiln, "--config", config), None, config / "bands.yaml"),
                                (("sweep", kiln, *rows, "--config", config), None, config / "bands.yaml"),
                                (("exposure", "--ppm", "60", "--hours", "4", "--config", config), None,
                                 folder / "bands")):
        with open(read or os.devnull, "rb") as stdin:
            done = h.run(*words, "--output", output, code=None, stdin=stdin)
        need_write_error(done, "which would be lost")
        for path, content in kept.items():
            need(path.read_bytes() == content, f"{done}: {path.name} is changed")
    need(not [path for path in folder.rglob("*") if path.name.startswith("damperwise")], "left something behind")
    # What is not read may be replaced.
    with open(kiln, "rb") as stdin:
        h.run("estimate", "-", "--output", folder / "result", stdin=stdin)
    h.run("estimate", JUNIPER, "--output", kiln)


def test_links_to_nowhere_are_refused(h):
    folder = h.folder("nowhere")
    (folder / "dangling").symlink_to(folder / "nothing")
    (folder / "here").symlink_to(folder / "there")
    (folder / "there").symlink_to(folder / "here")
    for name, words in (("dangling", "does not exist"), ("here", "leads back to itself")):
        for what in (("estimate", JUNIPER), SHORT):
            need_write_error(h.run(*what, "--output", folder / name, code=None), words)
        need((folder / name).is_symlink(), f"{name} is no link any more")
    need(sorted(os.listdir(folder)) == ["dangling", "here", "there"], "left something behind")


def someone_else(h):
    """For h.run(): another user than root, who may do all."""
    h.scratch.chmod(0o755)
    someone = {"user": 65534, "group": 65534, "extra_groups": []} if os.geteuid() == 0 else {}
    try:
        h.run("--version", **someone)
    except (OSError, subprocess.SubprocessError) as error:
        raise Skip(f"no other user can run the program here ({error})") from error
    return someone


def test_a_read_only_file_is_refused(h):
    path = old_file(h, "read-only-file")
    path.parent.chmod(0o777)
    path.chmod(0o444)
    someone = someone_else(h)
    for words in (("estimate", "-"), ("sweep", "-", "--vary", "damper=50%", "--format", "csv")):
        done = h.run(*words, "--output", path, code=None, stdin=JUNIPER.read_bytes(), **someone)
        need_write_error(done, "Permission denied")
        need_untouched(path, done)


def test_a_file_does_not_change_hands(h):
    if os.geteuid() != 0:
        raise Skip("only root can make files of another owner")
    path = old_file(h, "hands")
    path.parent.chmod(0o777)
    path.chmod(0o666)
    done = h.run("estimate", "-", "--output", path, code=None, stdin=JUNIPER.read_bytes(), **someone_else(h))
    need_write_error(done, "another user")
    need_untouched(path, done)
    os.chown(path, 65534, 65534)
    path.chmod(0o640)
    h.run("estimate", JUNIPER, "--output", path)
    info = path.stat()
    need((info.st_uid, info.st_gid, info.st_mode & 0o777) == (65534, 65534, 0o640), "owner or mode is lost")


def test_read_only_folder(h):
    path = old_file(h, "readonly")
    h.scratch.chmod(0o755)
    path.parent.chmod(0o555)
    someone = {}
    if os.geteuid() == 0:  # who may write everywhere
        someone = {"user": 65534, "group": 65534, "extra_groups": []}
    try:
        h.run("--version", **someone)
    except (OSError, subprocess.SubprocessError) as error:
        raise Skip(f"no other user can run the program here ({error})") from error
    done = h.run("estimate", "-", "--output", path, code=None, stdin=JUNIPER.read_bytes(), **someone)
    path.parent.chmod(0o755)
    need_write_error(done, "Permission denied")
    need_untouched(path, done)


def test_nothing_is_written_when_the_input_is_wrong(h):
    path = old_file(h, "wrong")
    need_untouched(path, h.run("estimate", JUNIPER, "--damper", "200%", "--output", path, code=3))
    need_untouched(path, h.run("estimate", JUNIPER, "--dampr", "2%", "--output", path, code=2))
    need_untouched(path, h.run("estimate", "no-such.yaml", "--output", path, code=3))


# ---- pipes and signals ---------------------------------------------------------------------------


def test_closed_pipe(h):
    for words in (LARGE, SHORT, ("estimate", JUNIPER), ("--help",)):
        reader, writer = os.pipe()
        os.close(reader)
        with os.fdopen(writer, "wb") as pipe:
            done = h.run(*words, code=5, stdout=pipe)
        need("Broken pipe" in done.err, f"{done}: the message does not say why")


def test_closed_standard_output(h):
    done = h.run("estimate", JUNIPER, code=5, preexec_fn=lambda: os.close(1))
    need("cannot write" in done.err, f"{done}: no message")


def test_closed_standard_output_does_not_harm_a_file(h):
    path = h.folder("closed") / "result"
    h.run("estimate", JUNIPER, "--output", path, preexec_fn=lambda: os.close(1))
    h.run("estimate", JUNIPER, "--output", path, preexec_fn=lambda: os.close(2))
    need(path.read_text() == h.run("estimate", JUNIPER).out, "the file has something else in it")


def test_closed_standard_input(h):
    h.run("estimate", JUNIPER, stdin=None, preexec_fn=lambda: os.close(0))
    h.run("estimate", "-", code=3, stdin=None, preexec_fn=lambda: os.close(0))


def interrupt(h, kind, vary):
    path = old_file(h, f"signal-{kind}")
    command = [h.program, "sweep", str(JUNIPER), "--vary", vary, "--format", "csv",
               "--output", str(path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as program:
        said = wait_for_text(program.stderr.fileno(), b"points", 60)
        program.send_signal(kind)
        out, err = program.communicate(timeout=60)
    name = signal.Signals(kind).name
    # Its own message and an exit code, or the signal's own end: both say that it did not finish.
    need(program.returncode != 0, f"{name}: ended with 0, not interrupted")
    need(out == b"", f"{name}: wrote to standard output")
    need("points" in said, f"{name}: no progress in a long sweep: {said + err.decode()!r}")
    need(path.read_text() == OLD, f"{name}: the old file is changed")
    need(os.listdir(path.parent) == [path.name], f"{name}: {os.listdir(path.parent)}")


def test_interrupted_sweep_leaves_the_old_file(h):
    vary = long_sweep(h, 60)
    for kind in (signal.SIGINT, signal.SIGTERM):
        interrupt(h, kind, vary)


# ---- progress ------------------------------------------------------------------------------------


def test_progress_on_a_terminal(h):
    vary = long_sweep(h, 4)
    try:
        ours, theirs = pty.openpty()
    except OSError as error:
        raise Skip(f"this system lends no terminal ({error})") from error
    # Into a file: a pipe that nobody empties would hold the program up, and its progress with it.
    rows = h.scratch / "rows-of-progress"
    with rows.open("wb") as results, subprocess.Popen(
            [h.program, "sweep", str(JUNIPER), "--vary", vary, "--format", "csv"],
            stdout=results, stderr=theirs) as program:
        os.close(theirs)
        started = time.monotonic()
        said = wait_for_text(ours, b"points", 30)
        waited = time.monotonic() - started
    out = rows.read_text()
    said += wait_for_text(ours, b"\0", 1)
    os.close(ours)
    need(program.returncode == 0, f"ended with {program.returncode}")
    need(" of " in said and "points" in said, f"no progress on the terminal: {said!r}")
    need(waited > 0.9, "progress in the first second, where it only flickers")
    need("points" not in out and "\r" not in out.replace("\r\n", ""), "progress among the results")


def test_no_progress_in_a_short_sweep(h):
    done = h.run("sweep", JUNIPER, "--vary", "damper=0..100%:50%")
    need("points of" not in done.err and " of 3 points\n" not in done.err, f"{done}")


# ---- many rows -----------------------------------------------------------------------------------


def peak_kb(h, points, *words):
    """Most memory of a sweep, with its rows to a file."""
    path = h.scratch / "rows"
    command = [h.program, *[str(w) for w in words], "--vary", f"damper=0..100%:{100 / points:.9f}%",
               "--output", str(path)]
    code = ("import resource, subprocess, sys; subprocess.run(sys.argv[1:], check=True, stderr=subprocess.DEVNULL);"
            "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)")
    # A sanitizer that keeps what was freed would count it.
    options = os.environ.get("ASAN_OPTIONS", "") + ":quarantine_size_mb=0:thread_local_quarantine_size_kb=0"
    out = subprocess.run([sys.executable, "-c", code, *command], check=True, stdout=subprocess.PIPE,
                         timeout=300, env={**os.environ, "ASAN_OPTIONS": options})
    lines = path.read_bytes().count(b"\n")
    need(lines > points, f"{lines} lines of {points} points")
    return int(out.stdout)


def test_rows_need_no_memory(h):
    """The axis needs 8 bytes a row, the rows themselves none: more rows take less than 100 bytes each, or 300
    where a room is worked out for each and there are fewer."""
    folder = ROOT / "examples"
    for more, limit_kb, words in (
            (4000, 400, ("sweep", JUNIPER, "--format", "json")),
            (4000, 400, ("sweep", JUNIPER, "--format", "csv")),
            (4000, 400, ("oxides", JUNIPER, "--format", "json")),
            (1000, 300, ("room", folder / "room-saltholme-yard.yaml", "--set", "room.duration=1 h",
                         "--format", "csv"))):
        few, many = peak_kb(h, 400, *words), peak_kb(h, 400 + more, *words)
        need(many - few < limit_kb, f"{words}: {few} kB for 400 rows, {many} kB for {400 + more}")


def test_text_of_too_many_rows_is_refused(h):
    for words in (("sweep", JUNIPER), ("room", ROOT / "examples" / "room-saltholme-yard.yaml"),
                  ("oxides", JUNIPER)):
        for layout in ("text", "html"):
            done = h.run(*words, "--vary", "damper=0..100%:0.0005%", "--format", layout, code=3)
            need("at most 100000 rows" in done.err and "--format csv" in done.err, f"{done}: says not why")
            need(done.out == "", f"{done}: rows all the same")
    done = h.run("oxides", "--at", "900 degC..1200 degC:0.001 degC", "--log-po2", "-8", code=3)
    need("at most 100000 rows" in done.err, f"{done}: says not why")


# ---- locale --------------------------------------------------------------------------------------


def comma_locale(h):
    """Environment of a locale with a decimal comma, made where there is none."""
    probe = "import locale; locale.setlocale(locale.LC_ALL, ''); print(locale.localeconv()" \
            "['decimal_point'])"
    folder = h.folder("locale")
    subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8", str(folder / "de_DE.UTF-8")],
                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    for extra in ({"LOCPATH": str(folder)}, {}):
        env = {**os.environ, "LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8", **extra}
        done = subprocess.run([sys.executable, "-c", probe], env=env, stdout=subprocess.PIPE,
                              stderr=subprocess.DEVNULL, check=False)
        if done.stdout.strip() == b",":
            return env
    raise Skip("no locale with a decimal comma is here and none can be made "
               "(package 'locales' has the sources)")


def test_decimal_comma_changes_nothing(h):
    if shutil.which("localedef") is None:
        raise Skip("localedef is not here")
    env = comma_locale(h)
    for words in (("estimate", JUNIPER), ("estimate", JUNIPER, "--format", "json"),
                  ("estimate", JUNIPER, "--format", "csv", "--units", "us"),
                  ("check", JUNIPER), ("sweep", JUNIPER, "--vary", "damper=0..100%:12.5%"),
                  ("estimate", JUNIPER, "--damper", "37.5%", "--gas-pressure", "2.5 psi")):
        plain, comma = h.run(*words), h.run(*words, env=env)
        need((plain.out, plain.err) == (comma.out, comma.err), f"{comma}: differs")
    json.loads(h.run("estimate", JUNIPER, "--format", "json", env=env).out)
    done = h.run("estimate", JUNIPER, "--damper", "37,5%", code=3, env=env)
    need("37,5" in done.err, f"{done}: the decimal comma is not named")


if __name__ == "__main__":
    main(__doc__, tests_of(sys.modules[__name__]))
