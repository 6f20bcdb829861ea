#!/bin/sh
# The README's two commands in a bare Debian 12 that debootstrap makes, each twice, the second time
# without a network. As root, from anywhere: `sh tests/slow/bare.sh`, or with `examples` or `tests`
# after it for one of the two. What is tried is the tree as it stands, committed or not.
set -eu
cd "$(dirname "$0")/../.."
release=bookworm
[ "$(id -u)" = 0 ] || { echo "bare: only root may make a root" >&2; exit 4; }
command -v debootstrap >/dev/null || { echo "bare: apt-get install debootstrap first" >&2; exit 4; }

# Where this machine's apt has Debian from.
mirror=$(apt-get indextargets --format '$(CODENAME) $(COMPONENT) $(REPO_URI)' 'Created-By: Packages' |
    awk -v release=$release '$1 == release && $2 == "main" { print $3; exit }')
mirror=${mirror:-http://deb.debian.org/debian}

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
root=$work/root
echo "bare: $release from $mirror ..."
debootstrap --variant=minbase $release "$root" "$mirror" >"$work/debootstrap" 2>&1 || {
    tail -n 20 "$work/debootstrap" >&2
    exit 4
}
cp -L /etc/resolv.conf /etc/hosts "$root/etc/"
mkdir "$root/kilnstow"
git ls-files -z --cached --others --exclude-standard | tar -c --null -T - | tar -x -C "$root/kilnstow"

failed=0
tried() { # WHICH HOW [OPTION OF UNSHARE]: one command in the root
    which=$1
    how=$2
    shift 2
    echo "== sh $which/run, $how"
    if unshare --mount "$@" sh -c 'mount -t proc proc "$1/proc" && exec chroot "$1" \
        env -i HOME=/ PATH=/usr/sbin:/usr/bin:/sbin:/bin sh -c "cd /kilnstow && sh $2/run"' \
        bare "$root" "$which" </dev/null; then
        echo "ok - sh $which/run, $how"
    else
        echo "not ok - sh $which/run, $how: status $?"
        failed=$((failed + 1))
    fi
}
for which in ${*:-examples tests}; do
    tried "$which" "on a bare machine"
    tried "$which" "again, without a network" --net
done
[ "$failed" = 0 ]
