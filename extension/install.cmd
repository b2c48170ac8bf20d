@echo off
rem Sets Underlit up by a double click (Windows). No typed command.
setlocal
pushd "%~dp0"
if not exist install.py (
  echo This file works only beside the others of Underlit. Unpack the whole archive first:
  echo right-click it, choose Extract All, then double-click install.cmd in the new folder.
  goto failed
)
set "TEST=import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))"
set "FOUND="

py -3 -c "%TEST%" >nul 2>nul && set "FOUND=py -3"
if not defined FOUND python -c "%TEST%" >nul 2>nul && set "FOUND=python"
if not defined FOUND python3 -c "%TEST%" >nul 2>nul && set "FOUND=python3"

if not defined FOUND (
  echo Underlit needs Python 3.11 or newer, and I find none on this computer.
  echo Get it from www.python.org, tick "Add python.exe to PATH" while installing it,
  echo then double-click this file once more.
  goto failed
)

echo Setting up Underlit for Inkscape. This takes a minute or two.
%FOUND% install.py %*
if errorlevel 1 (
  echo That did not work. The line above says why.
  goto failed
)
echo.
if not defined CI pause
exit /b 0

:failed
echo.
if not defined CI pause
exit /b 1
