#!/usr/bin/env bash
# Installs what is missing of the named groups of packages.txt. Silent and quick when nothing is.
# Usage: tools/install_packages.sh build libraries
set -euo pipefail
cd "$(dirname "$0")/.."

# Packages of the groups named in the arguments, one a line.
wanted() {
  awk -v groups=" $* " '
    /^# group:/ { chosen = index(groups, " " $3 " ") > 0; next }
    { sub(/#.*/, ""); gsub(/[[:space:]]/, "") }
    chosen && $0 != "" { print }' packages.txt
}

packages=($(wanted "$@"))
if [ "${#packages[@]}" -eq 0 ]; then
  echo "install_packages.sh: packages.txt has no group named $*" >&2
  exit 2
fi

if ! command -v dpkg-query >/dev/null; then
  echo "This is not a Debian machine, so nothing was installed. barm needs the equivalents of:" >&2
  echo "  ${packages[*]}" >&2
  exit 0   # the build itself will say what it cannot find
fi

present=$(dpkg-query --show --showformat '${db:Status-Status} ${Package}\n' "${packages[@]}" 2>/dev/null |
  awk '$1 == "installed" { print $2 }' || true)
# A node that came another way does as well, and Debian's npm would not install beside it.
command -v node >/dev/null && command -v npm >/dev/null && present+=$'\nnodejs\nnpm'
missing=()
for package in "${packages[@]}"; do
  grep -qxF "$package" <<<"$present" || missing+=("$package")
done
[ "${#missing[@]}" -eq 0 ] && exit 0

as_root=()
if [ "$(id -u)" -ne 0 ]; then
  if ! command -v sudo >/dev/null; then
    echo "These packages are missing, and installing them takes an administrator. Ask one to type:" >&2
    echo "  apt-get install --no-install-recommends ${missing[*]}" >&2
    exit 3
  fi
  as_root=(sudo)
fi

log=$(mktemp)
trap 'rm -f "$log"' EXIT
apt() { "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get "$@" </dev/null >>"$log" 2>&1; }

echo "Installing ${#missing[@]} packages: ${missing[*]}" >&2
apt update || true   # a list that cannot be renewed matters only if the packages cannot be had
if ! apt install --yes --no-install-recommends "${missing[@]}"; then
  tail -n 15 "$log" >&2
  echo >&2
  echo "The packages could not be installed. Look at the network and the package sources, then try again, or type:" >&2
  echo "  apt-get install --no-install-recommends ${missing[*]}" >&2
  exit 3
fi
