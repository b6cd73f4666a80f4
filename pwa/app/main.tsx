import { render } from 'preact';
import { App } from './app';
import { showLastScreen } from './frame/last';
import './style/ink.css';
import './style/frame.css';
import './style/ledger.css';
import './style/margin.css';
import './style/form.css';
import './style/bench.css';
import './style/aid.css';
import './style/benchsmall.css';
import './style/screens.css';
import './style/page.css';
import './style/stall.css';
import './style/reckon.css';
import './style/share.css';
import './style/ageing.css';
import './style/law.css';
import './style/wide.css';

const root = document.getElementById('app');
if (root) {
  root.textContent = '';
  render(<App />, root);
  void showLastScreen();
}
