"""Building asks only for what the program links: bare.py PROGRAM, from the project's top folder.

Configures as examples/run does, and once with no option at all, where pkg-config files, headers and
programs of the packages that only tests use are hidden. tests/slow/bare.sh does it for real, in a
root made by debootstrap.
"""
import os
import pathlib
import re
import subprocess
import sys
import tempfile

PROGRAM_FOLDERS = ("/usr/local/bin", "/usr/bin", "/usr/sbin")
# meson itself runs on it, so it is on every machine that can build.
COMES_WITH_MESON = {"python3"}
# Which meson would ask, next to pkg-config, what is here.
NOT_ON_A_BARE_MACHINE = {"cmake"}


def printed(*command):
    return subprocess.run(command, check=True, text=True, capture_output=True).stdout.strip()


def names(kind):
    return set(printed("sh", "tests/packages.sh", "names", kind).split())


def files_of(packages):
    lines = printed("dpkg", "-L", *sorted(packages)).splitlines()
    return [pathlib.Path(line) for line in lines if os.path.isfile(line)]


def is_hidden(path, hidden):
    """Also a folder in which all files are hidden."""
    if not path.is_dir():
        return path.resolve() in hidden
    return any(file in hidden for file in path.rglob("*")) and all(
        file in hidden for file in path.rglob("*") if file.is_file())


def link_all_but(hidden, folders, into):
    """Links in `into` to all that stands in `folders`, but not to what is hidden; the first counts."""
    into.mkdir()
    for folder in map(pathlib.Path, folders):
        for path in folder.iterdir() if folder.is_dir() else ():
            link = into / path.name
            if path.name not in NOT_ON_A_BARE_MACHINE and not is_hidden(path, hidden) \
                    and not link.is_symlink():
                link.symlink_to(path)


def hide(packages, work):
    """An environment in which the packages are not there, as far as a configuring meson looks."""
    hidden = {path.resolve() for path in files_of(packages)}
    link_all_but(hidden, PROGRAM_FOLDERS, work / "bin")
    link_all_but(hidden, printed("pkg-config", "--variable", "pc_path", "pkg-config").split(":"),
                 work / "pkgconfig")
    link_all_but(hidden, ["/usr/include"], work / "include")
    headers = [printed("gcc", "-print-file-name=include"), work / "include",
               work / "include" / printed("gcc", "-print-multiarch")]
    return {**os.environ, "PATH": str(work / "bin"), "PKG_CONFIG_LIBDIR": str(work / "pkgconfig"),
            "CFLAGS": " ".join(["-nostdinc", *("-isystem %s" % folder for folder in headers)])}


def configure(folder, options, environment):
    run = subprocess.run(["meson", "setup", str(folder), *options], env=environment, text=True,
                         capture_output=True)
    return run.returncode, run.stdout + run.stderr


def options_of_the_examples():
    line = re.search(r"meson setup build-release (.*?) *>", open("examples/run").read())
    return line.group(1).split()


def linked_by(program):
    return set(re.findall(r"\(NEEDED\).*\[(.*)\]", printed("readelf", "-d", program)))


def sonames_of(package):
    """What a program that links one of the package's libraries then names as needed."""
    libraries = [str(path) for path in files_of([package]) if path.suffix == ".so"]
    text = printed("readelf", "-d", *libraries) if libraries else ""
    return set(re.findall(r"\(SONAME\).*\[(.*)\]", text))


def calls_of_others():
    """Where tests of the suite call git: people have it, a bare machine and an unpacked archive don't."""
    called = re.compile(r"""\[\s*['"]git['"]""")
    return ["%s: calls git" % path for path in sorted(pathlib.Path("tests").rglob("*.py"))
            if "slow" not in path.parts and called.search(path.read_text(encoding="utf-8"))]


def told(number, name, faults):
    for line in faults:
        print("# " + line)
    print("%sok %d - %s" % ("not " if faults else "", number, name))
    return bool(faults)


def main(program):
    if subprocess.run(["sh", "-c", "command -v dpkg"], capture_output=True).returncode:
        print("1..0 # SKIP no dpkg here to tell which files a package has")
        return 0
    only_tests = names("tests") - names("build") - COMES_WITH_MESON
    bad = 0
    with tempfile.TemporaryDirectory() as work:
        work = pathlib.Path(work)
        bare = hide(only_tests, work)
        for number, (name, options) in enumerate((
                ("examples/run configures without what only tests need", options_of_the_examples()),
                ("a plain meson setup does too, and leaves the tests out", [])), 1):
            status, said = configure(work / str(number), options, bare)
            bad += told(number, name, said.splitlines()[-12:] if status else [])
        status, said = configure(work / "3", ["-Dtests=enabled"], bare)
        bad += told(3, "tests that are asked for miss what is hidden here",
                    [] if status and "cmocka" in said else said.splitlines()[-12:])
    needed = linked_by(program)
    idle = [package for package in sorted(names("build"))
            if package.startswith("lib") and not sonames_of(package) & needed]
    bad += told(4, "every library that building installs is linked",
                ["%s: no library of it is linked by the program" % one for one in idle])
    bad += told(5, "no test calls a program that no package of packages.sh brings", calls_of_others())
    print("1..5")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
