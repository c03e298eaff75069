# Set-up that serve, test and bench share: sourced, not run. Each step looks first and says what it does.

cd "$(dirname "${BASH_SOURCE[0]}")/.."

say() { echo "--- set-up: $*" >&2; }

# timed NAME COMMAND…: says on standard output how long it took, in the suite's own words.
timed() {
  local name=$1 from=$EPOCHREALTIME
  shift
  "$@"
  awk -v a="$from" -v b="$EPOCHREALTIME" -v n="$name" 'BEGIN { printf "took %.1f s: %s\n", b - a, n }'
}

as_root() {
  if [ "$(id -u)" = 0 ]; then "$@"; elif command -v sudo > /dev/null; then sudo "$@"; else
    echo "This step needs root and there is no sudo: $*" >&2
    return 1
  fi
}

# apt_get COMMAND PACKAGE…: installs the packages if the command is missing.
apt_get() {
  local command=$1
  shift
  command -v "$command" > /dev/null && return
  say "installing $* (for $command)"
  if [ -z "${apt_updated:-}" ]; then
    as_root apt-get update -qq
    apt_updated=yes
  fi
  DEBIAN_FRONTEND=noninteractive as_root apt-get install -y -qq --no-install-recommends "$@" > /dev/null
}

need_rust() {
  [ -f "$HOME/.cargo/env" ] && . "$HOME/.cargo/env"
  if ! command -v cargo > /dev/null; then
    echo "Rust is missing: install it by rustup (https://rustup.rs), then run this again." >&2
    return 1
  fi
  apt_get cc gcc libc6-dev
  if command -v rustup > /dev/null && ! rustup target list --installed | grep -qx wasm32-unknown-unknown; then
    say "adding the wasm target"
    rustup target add wasm32-unknown-unknown
  fi
}

need_tool() {
  say "building the workspace tool (a minute or two the first time)"
  cargo build --locked --quiet --profile tool -p scripts
}

# Chromium with its driver, and what a printed sheet is looked at with.
need_browser() {
  apt_get chromium chromium
  apt_get chromedriver chromium-driver
  apt_get pdftotext poppler-utils
  if ! command -v fc-list > /dev/null || [ -z "$(fc-list : family 2> /dev/null)" ]; then
    say "installing a font"
    apt_get fc-list fontconfig fonts-dejavu-core
  fi
}

# The other two engines. WebKit's browser needs a screen.
need_other_browsers() {
  apt_get firefox-esr firefox-esr
  apt_get WebKitWebDriver webkit2gtk-driver
  apt_get Xvfb xvfb xauth
}

# Firefox's driver is in no Debian package: it is compiled into the project's own folder, without debug information.
need_geckodriver() {
  local version=0.37.1
  [ "$(target/tools/bin/geckodriver --version 2> /dev/null | head -n 1 | cut -d ' ' -f 2)" = "$version" ] && return
  say "compiling geckodriver $version (a minute or so)"
  CARGO_PROFILE_DEV_DEBUG=0 CARGO_INCREMENTAL=0 \
    cargo install --locked --debug --quiet --force --root target/tools --version "=$version" geckodriver
}

need_axe() {
  command -v npm > /dev/null || apt_get npm nodejs npm
  if [ ! -f tests/browser/node_modules/axe-core/axe.min.js ]; then
    say "installing axe-core"
    npm ci --silent --no-audit --no-fund --prefix tests/browser
  fi
}

# The checker of SVG is a Java program; its own set-up would fetch another Java.
need_vnu() {
  command -v npm > /dev/null || apt_get npm nodejs npm
  apt_get java default-jre-headless
  if [ ! -f tests/outside/node_modules/vnu-jar/build/dist/vnu.jar ]; then
    say "installing the checker of SVG"
    npm ci --silent --no-audit --no-fund --ignore-scripts --prefix tests/outside
  fi
}

need_python() {
  local wanted=tests/outside/requirements.txt
  if ! cmp -s "$wanted" .venv/installed.txt; then
    say "making .venv with what $wanted pins"
    if ! python3 -m venv .venv 2> /dev/null; then
      say "installing python3-venv"
      as_root apt-get update -qq
      DEBIAN_FRONTEND=noninteractive as_root apt-get install -y -qq python3-venv > /dev/null
      python3 -m venv .venv
    fi
    .venv/bin/python -m pip install --quiet --disable-pip-version-check -r "$wanted"
    cp "$wanted" .venv/installed.txt
  fi
}
