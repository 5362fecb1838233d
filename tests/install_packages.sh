#!/usr/bin/env bash
# Installs the Debian 12 packages that are missing: `install_packages.sh [program|tests]`.
set -euo pipefail

packages=(ca-certificates cmake g++ ninja-build libboost-dev libeigen3-dev libtbb-dev libcli11-dev
  libtomlplusplus-dev libudunits2-dev libudunits2-data libfmt-dev nlohmann-json3-dev libhdf5-dev)
if [ "${1:-program}" = tests ]; then
  packages+=(git libgtest-dev libgmock-dev librapidcheck-dev libsundials-dev chromium poppler-utils
    python3-h5py python3-h5netcdf python3-xarray python3-matplotlib)
  command -v npm >/dev/null || packages+=(nodejs npm)   # Debian's npm brings hundreds of packages
fi

if ! command -v dpkg-query >/dev/null; then
  echo "This is not a Debian system. Please install the equivalents of: ${packages[*]}" >&2
  exit 0
fi
missing=()
for package in "${packages[@]}"; do
  status=$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null || true)
  [ "$status" = installed ] || missing+=("$package")
done
if [ ${#missing[@]} -eq 0 ]; then
  echo "All ${#packages[@]} packages needed are installed."
  exit 0
fi

if [ "$(id -u)" -eq 0 ]; then
  as_root=(env)
elif command -v sudo >/dev/null; then
  as_root=(sudo env)
else
  echo "Missing packages, and neither root nor sudo to install them. Ask an administrator to run:" >&2
  echo "  apt-get install ${missing[*]}" >&2
  exit 1
fi
echo "Installing: ${missing[*]}"
apt=("${as_root[@]}" DEBIAN_FRONTEND=noninteractive apt-get -q -o DPkg::Lock::Timeout=300)
"${apt[@]}" update
"${apt[@]}" install -y --no-install-recommends "${missing[@]}" </dev/null
