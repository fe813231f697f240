bayleaf.words("ta",{"tack":"3:3","take":"0:3,5,6;1:2,4,8,b,j;2:2,3,4,6,7,d,p;3:2,4,5,7,d,e,f,o","takes":"2:0;3:0","tank":"0:2","tanks":"0:2","tape":"0:8;3:3,h"});
