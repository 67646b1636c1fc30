# Sourced by run and check: keeps the compiler cache in its usual place, or in build/ where there is no writable home.
if command -v ccache >/dev/null; then
  cache=${CCACHE_DIR:-$(ccache --get-config cache_dir 2>/dev/null || true)}
  if [ -z "$cache" ] || ! mkdir -p "$cache" 2>/dev/null || [ ! -w "$cache" ]; then
    CCACHE_DIR="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)/build/ccache"
    export CCACHE_DIR
  fi
  unset cache
fi
