/** In the corner of a sheet: whether the server runs, which one, and for which book. */

import * as vscode from "vscode";

import type { Server } from "./server";

export class StatusItem implements vscode.Disposable {
  private readonly item = vscode.languages.createLanguageStatusItem("rotorbook", { language: "rotorbook" });
  private readonly listeners: vscode.Disposable[];

  constructor(private readonly server: Server) {
    this.item.name = "Rotorbook";
    this.listeners = [server.onChange(() => this.draw()), vscode.window.onDidChangeActiveTextEditor(() => this.draw())];
    this.draw();
  }

  dispose(): void {
    this.item.dispose();
    this.listeners.forEach((listener) => listener.dispose());
  }

  private draw(): void {
    const info = this.server.running?.initializeResult?.serverInfo;
    if (info === undefined) {
      this.item.severity = vscode.LanguageStatusSeverity.Warning;
      this.item.text = "Rotorbook does not run";
      this.item.command = { command: "rotorbook.restart", title: "Start" };
      return;
    }
    const sheet = vscode.window.activeTextEditor?.document.uri;
    const folder = sheet === undefined ? undefined : vscode.workspace.getWorkspaceFolder(sheet);
    this.item.severity = vscode.LanguageStatusSeverity.Information;
    this.item.text = `Rotorbook ${info.version ?? ""}`;
    this.item.detail = folder?.name;
    this.item.command = { command: "rotorbook.openLog", title: "Log" };
  }
}
